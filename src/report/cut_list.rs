//! The cut list and what to buy for it, in words, as CSV and as JSON.

use std::fmt::Write as _;

use serde_json::{Value, json};

use crate::physics::design::Design;
use crate::physics::workshop::cuts::{Cut, CutList, Stuff, key_of};
use crate::physics::workshop::outline::Sheet;
use crate::physics::workshop::to_buy::{self, Material};
use crate::report::csv::{cell, line as csv_line};

/// What belongs on a sheet that sends somebody to cut.
pub const CUTTING: [&str; 3] = [
    "Estimates for design study, no approval to fly: lay one panel out in full before you cut for all, and measure the mould, not the list.",
    "Cutting cloth, foam and board throws fibres and dust: extraction, a mask for fine dust, eyes covered, long sleeves. Carbon dust conducts: keep it out of switches and motors.",
    "Hot-wiring gives off fumes that poison: outdoors or with extraction, and never a foam whose maker does not allow it.",
];

/// How blanks are laid out.
pub const HOW: &str = "Every blank is a rectangle that its roll or sheet holds, trim included, laid by a plain rule: longest first, each on the first shelf with room across. \
A ply at 45 degrees from a roll of 0/90 cloth lies slantwise: it is cut in lengths that reach across the roll, side by side, and takes more cloth. A cleverer layout needs less. Bays are counted from the root, rib 3 stands at the outer end of bay 3; faces: a blank for each face; 70→30 in a size: a layer of a cap is cut to its taper, 70 mm at its wide end and 30 at its narrow end; 2/5 behind a blank is the second of five lengths of one layer.";

/// A material with its thickness where it has one.
pub fn material(design: &Design, stuff: Stuff, thickness_m: f64) -> String {
    let key = key_of(design, stuff);
    if thickness_m > 0.0 { format!("{key} {} mm", tidy(1e3 * thickness_m)) } else { key.to_owned() }
}

/// A thickness; none of what comes by the area alone, like a covering.
fn thick(thickness_m: f64) -> Option<f64> {
    (thickness_m > 0.0).then_some(thickness_m)
}

/// A number without trailing zeros.
fn tidy(v: f64) -> String {
    let text = format!("{v:.1}");
    text.strip_suffix(".0").map_or(text.clone(), str::to_owned)
}

/// Columns behind the name.
pub const BEHIND: usize = 50;

/// What the columns are.
pub fn columns(name: usize) -> String {
    format!("{:<name$} {:<16}{:>4}{:>12}{:>4}{:>7}{:>6}", "blank", "material", "deg", "mm", "n", "m2", "g")
}

/// Words in so much room; left out of the middle, for the end tells pieces of one part from each other.
fn short(words: &str, most: usize) -> String {
    let n = words.chars().count();
    if n <= most {
        return words.to_owned();
    }
    let last = (most / 2).min(12);
    let first = most.saturating_sub(last + 1);
    words.chars().take(first).chain(['…']).chain(words.chars().skip(n - last)).collect()
}

/// A blank: name, material, angle, length and width, how many, area and dry mass of what is left in the wing.
pub fn row(design: &Design, c: &Cut, name: usize) -> String {
    let angle =
        if matches!(c.stuff, Stuff::Cloth(_)) { format!("{:.0}", c.angle_rad.to_degrees()) } else { String::new() };
    let tip = c.tapers_to_m().map_or_else(String::new, |m| format!("→{:.0}", 1e3 * m));
    let size = format!("{:.0}x{:.0}{tip}", 1e3 * c.blank.length_m, 1e3 * c.blank.width_m);
    let stuff = match c.stuff {
        Stuff::Strip(_) => format!("strip {} mm", tidy(1e3 * c.thickness_m)),
        stuff => material(design, stuff, c.thickness_m),
    };
    format!(
        "{:<name$} {:<16}{angle:>4}{size:>12}{:>4}{:>7.3}{:>6.0}",
        short(&c.name, name),
        short(&stuff, 16),
        c.count,
        c.net_m2,
        1e3 * c.net_kg
    )
}

/// What it comes as: a roll or a sheet.
fn comes_as(m: &Material) -> String {
    match m.from {
        Sheet::Roll(w) => format!("roll {:.0}", 1e3 * w),
        Sheet::Flat([l, w]) => format!("{:.0}x{:.0}", 1e3 * l, 1e3 * w),
        Sheet::Any => "strip".to_owned(),
    }
}

/// What the columns of what to buy are.
pub const BUY_COLUMNS: &str = "material               comes as mm   blanks       buy  waste      kg     price";

/// A material to buy.
pub fn buy_row(design: &Design, m: &Material) -> String {
    let buy = match m.from {
        _ if m.bought_m2 <= 0.0 => "none fits".to_owned(),
        Sheet::Flat(_) if m.sheets == 1 => "1 sheet".to_owned(),
        Sheet::Flat(_) => format!("{} sheets", m.sheets),
        _ => format!("{:.1} m", (10.0 * m.roll_m).ceil() / 10.0),
    };
    let price = m.price.filter(|_| m.bought_m2 > 0.0).map_or("-".to_owned(), |p| format!("{p:.0}"));
    let waste = m.waste().map_or("-".to_owned(), |w| format!("{:.0} %", 100.0 * w));
    let name: String = material(design, m.stuff, m.thickness_m).chars().take(22).collect();
    format!(
        "{name:<22} {:<12} {:>7} {buy:>9} {waste:>6} {:>7.2} {price:>9}",
        comes_as(m),
        m.blanks,
        m.bought_kg.max(0.0)
    )
}

/// What a list of things to buy comes to, a line each.
pub fn buy_words(design: &Design, all: &[Material]) -> Vec<String> {
    let sum = |f: &dyn Fn(&Material) -> f64| all.iter().map(f).sum::<f64>();
    let price = sum(&|m| m.price.unwrap_or(0.0));
    let join_m2 = sum(&|m| m.join_m2);
    let mut out = vec![format!(
        "bought {:.1} kg for {:.1} kg in the wing; {price:.0} {} by the prices of the library, resin and glue not counted",
        sum(&|m| m.bought_kg),
        sum(&|m| m.used_kg),
        design.rates.currency
    )];
    let cloth = all.iter().filter(|m| matches!(m.stuff, Stuff::Cloth(_)));
    let (bought, used) = cloth.fold((0.0, 0.0), |a, m| (a.0 + m.bought_m2, a.1 + m.used_m2));
    if used > 0.0 {
        out.push(format!(
            "cloth laid out like this takes {:.0} % more than what stays in the wing; the costs of the other pages count {:.0} % (rates.waste)",
            100.0 * (bought / used - 1.0),
            100.0 * design.rates.waste
        ));
    }
    if join_m2 > 1e-9 {
        let join_kg: f64 =
            all.iter().map(|m| if m.used_m2 > 0.0 { m.used_kg / m.used_m2 * m.join_m2 } else { 0.0 }).sum();
        out.push(format!(
            "laps between lengths of one ply: {join_m2:.2} m2, {:.0} g dry by these blanks; the parts list counts them with resin as ply laps, by a rule for long strips that says somewhat more",
            1e3 * join_kg
        ));
    }
    let large: u32 = all.iter().map(|m| m.too_large).sum();
    if large > 0 {
        out.push(format!("{large} blanks fit no roll or sheet given under [workshop] and are not in what to buy"));
    }
    out.push("widths of rolls and sizes of sheets are common practice, no source, where [workshop] of the scenario is silent".to_owned());
    out
}

/// The cut list. Its lines are as wide as the longest name; only words are broken.
pub fn text(design: &Design, list: &CutList) -> String {
    let mut out = format!("CUT LIST: {}, both halves, as drawn\n", design.name);
    let name = list.cuts.iter().map(|c| c.name.chars().count()).max().unwrap_or(20).clamp(20, 60);
    let _ = writeln!(out, "{}", columns(name));
    let mut last = "";
    for c in &list.cuts {
        let heading = c.part.heading.word();
        if heading != last {
            let _ = writeln!(out, "{heading}");
            last = heading;
        }
        let _ = writeln!(out, "{}", row(design, c, name));
    }
    let _ = writeln!(out, "\nTO BUY");
    stock(design, list, &mut out);
    out.push('\n');
    for line in list.remarks.iter().map(String::as_str).chain(["", HOW, ""]).chain(CUTTING) {
        out.push_str(&super::holds::broken(line));
    }
    out
}

/// What to buy, with what it comes to.
fn stock(design: &Design, list: &CutList, out: &mut String) {
    let all = to_buy::of(design, list);
    let _ = writeln!(out, "{BUY_COLUMNS}");
    for m in &all {
        let _ = writeln!(out, "{}", buy_row(design, m));
    }
    for line in buy_words(design, &all) {
        out.push_str(&super::holds::broken(&line));
    }
}

/// What to buy, by itself.
pub fn stock_text(design: &Design, list: &CutList) -> String {
    let mut out = format!("TO BUY: {}\n", design.name);
    stock(design, list, &mut out);
    for line in ["", HOW, ""].into_iter().chain(CUTTING) {
        out.push_str(&super::holds::broken(line));
    }
    out
}

/// The cut list as comma-separated values, a line for each blank.
pub fn csv(design: &Design, list: &CutList) -> String {
    let mut out = String::from(
        "part,blank,material,thickness_mm,angle_deg,length_mm,width_mm,count,net_m2,net_kg,resin_kg,splice_lap_m2,join_lap_m2,tapers_to_mm\n",
    );
    for c in &list.cuts {
        let _ = writeln!(
            out,
            "{},{},{},{},{:.1},{:.1},{:.1},{},{:.6},{:.6},{:.6},{:.6},{:.6},{}",
            cell(&c.part.words()),
            cell(&c.name),
            cell(key_of(design, c.stuff)),
            thick(c.thickness_m).map_or(String::new(), |t| format!("{:.3}", 1e3 * t)),
            c.angle_rad.to_degrees(),
            1e3 * c.blank.length_m,
            1e3 * c.blank.width_m,
            c.count,
            c.net_m2,
            c.net_kg,
            c.resin_kg,
            c.lap[0],
            c.join[0],
            c.tapers_to_m().map_or(String::new(), |m| format!("{:.1}", 1e3 * m))
        );
    }
    out
}

/// What to buy as comma-separated values, a line for each material; sizes as they come, nothing where a thing comes in no such.
pub fn stock_csv(design: &Design, list: &CutList) -> String {
    let mut out = String::from(
        "material,thickness_mm,roll_width_mm,sheet_length_mm,sheet_width_mm,blanks,roll_m,sheets,bought_m2,used_m2,join_lap_m2,waste,bought_kg,used_kg,price,currency,too_large\n",
    );
    let mm = |m: Option<f64>| m.map_or(String::new(), |m| format!("{:.1}", 1e3 * m));
    for m in to_buy::of(design, list) {
        let (roll, sheet) = sizes(&m);
        let rest = [
            mm(roll),
            mm(sheet.map(|s| s[0])),
            mm(sheet.map(|s| s[1])),
            m.blanks.to_string(),
            format!("{:.3}", m.roll_m),
            m.sheets.to_string(),
            format!("{:.6}", m.bought_m2),
            format!("{:.6}", m.used_m2),
            format!("{:.6}", m.join_m2),
            m.waste().map_or(String::new(), |w| format!("{w:.4}")),
            format!("{:.6}", m.bought_kg),
            format!("{:.6}", m.used_kg),
            m.price.map_or(String::new(), |p| format!("{p:.2}")),
            design.rates.currency.clone(),
            m.too_large.to_string(),
        ];
        let thick = thick(m.thickness_m).map_or(String::new(), |t| format!("{:.3}", 1e3 * t));
        out.push_str(&csv_line([key_of(design, m.stuff).to_owned(), thick].into_iter().chain(rest)));
    }
    out
}

/// Width of the roll it comes on, length and width of the sheet, m.
fn sizes(m: &Material) -> (Option<f64>, Option<[f64; 2]>) {
    match m.from {
        Sheet::Roll(w) => (Some(w), None),
        Sheet::Flat(s) => (None, Some(s)),
        Sheet::Any => (None, None),
    }
}

/// One blank for other programs.
pub fn cut_json(design: &Design, c: &Cut) -> Value {
    json!({
        "part": c.part.words(), "blank": c.name, "material": key_of(design, c.stuff), "thickness_m": thick(c.thickness_m),
        "angle_deg": c.angle_rad.to_degrees(), "length_m": c.blank.length_m, "width_m": c.blank.width_m, "tapers_to_m": c.tapers_to_m(), "count": c.count,
        "net_m2": c.net_m2, "net_kg": c.net_kg, "resin_kg": c.resin_kg, "splice_lap_m2": c.lap[0], "splice_lap_kg": c.lap[1] + c.lap[2],
        "join_lap_m2": c.join[0], "join_lap_kg": c.join[1],
    })
}

/// What to buy for other programs.
pub fn stock_json(design: &Design, list: &CutList) -> Value {
    let all = to_buy::of(design, list);
    let each = all.iter().map(|m| {
        let (roll, sheet) = sizes(m);
        json!({
            "material": key_of(design, m.stuff), "thickness_m": thick(m.thickness_m), "roll_width_m": roll, "sheet_m": sheet,
            "blanks": m.blanks, "roll_m": m.roll_m, "sheets": m.sheets, "bought_m2": m.bought_m2, "used_m2": m.used_m2,
            "join_lap_m2": m.join_m2, "waste": m.waste(), "bought_kg": m.bought_kg, "used_kg": m.used_kg, "price": m.price,
            "too_large": m.too_large,
        })
    });
    json!({"scenario": design.name, "to_buy": each.collect::<Vec<_>>(), "currency": design.rates.currency, "cautions": CUTTING})
}

/// The cut list for other programs.
pub fn json(design: &Design, list: &CutList) -> Value {
    let blanks: Vec<Value> = list.cuts.iter().map(|c| cut_json(design, c)).collect();
    json!({
        "scenario": design.name, "blanks": blanks, "to_buy": stock_json(design, list)["to_buy"], "remarks": list.remarks,
        "cautions": CUTTING,
    })
}
