//! What the wing takes in the workshop: what to buy, what is mixed, every part with the mass to stop at. The blanks one by one and
//! the sheet of each part are work sheets and stay out of the page; it says where they are.

use super::Sheet;
use super::html::{Row, Show, esc, numbers, para, plain_list, table, words};
use crate::report::cut_list::{CUTTING, HOW};
use crate::report::mixing::WET;

/// What to buy, batches of resin, parts.
pub(super) fn html(s: &Sheet) -> String {
    let blanks = s.building().blanks;
    if blanks == 0 {
        return para("Nothing of this wing is cut.");
    }
    let file = esc(&s.wing.file);
    let mut out = format!(
        "<p>As drawn, both halves: <strong>{blanks} blanks</strong> in all. They are listed one by one by <code>thistledown workshop {file} --cuts</code> \
         (with <code>--csv</code> as a table), and each part has a sheet of its own by <code>--parts</code>, with its blanks, resin, hours and cautions: \
         work sheets for the bench, too long for this page. On the screen they stand on the Workshop page (0, then c).</p>\n"
    );
    out.push_str(&stock(s));
    out.push_str(&plain_list(&s.building().buy_words));
    out.push_str(&resin(s));
    out.push_str(&plain_list(&s.building().mix_words));
    out.push_str(&parts(s));
    out.push_str("<h3>Taken for granted by the cut list</h3>\n");
    out.push_str(&plain_list(&s.building().remarks));
    out.push_str(&para(HOW));
    out.push_str("<h3>Cautions of the workshop</h3>\n");
    let cautions: Vec<String> = CUTTING.iter().chain(&WET).map(|c| (*c).to_owned()).collect();
    out + &plain_list(&cautions)
}

fn stock(s: &Sheet) -> String {
    let b = s.stock();
    let mm = Show::digits(0).times(1e3);
    let rows: Vec<Row> = (0..b.len("/to_buy"))
        .map(|i| {
            let at = |field: &str| format!("/to_buy/{i}/{field}");
            let (roll, sheet) = (b.get(&at("roll_width_m")), b.get(&at("sheet_m/0")));
            let comes = match (roll, sheet) {
                (Some(_), _) => format!("roll {} mm wide", b.num(&at("roll_width_m"), mm)),
                (_, Some(_)) => format!("sheet {} x {} mm", b.num(&at("sheet_m/0"), mm), b.num(&at("sheet_m/1"), mm)),
                _ => "strip".to_owned(),
            };
            let thick = b.num_or(&at("thickness_m"), Show::digits(1).times(1e3), "-");
            let buy = if b.get(&at("bought_m2")).is_none_or(|m2| m2 <= 0.0) {
                "none fits".to_owned()
            } else if sheet.is_some() {
                format!("{} sheets", b.num(&at("sheets"), Show::digits(0)))
            } else {
                format!("{} m", b.num(&at("roll_m"), Show::digits(1)))
            };
            vec![
                b.word(&at("material")),
                thick,
                comes,
                b.num(&at("blanks"), Show::digits(0)),
                buy,
                b.num_or(&at("waste"), Show::digits(0).times(100.0), "-"),
                b.num(&at("bought_kg"), Show::digits(2)),
                b.num_or(&at("price"), Show::digits(0), "-"),
            ]
            .into()
        })
        .collect();
    let columns = [
        words("material"),
        numbers("thick, mm"),
        words("comes as"),
        numbers("blanks"),
        words("buy"),
        numbers("waste, %"),
        numbers("kg"),
        numbers("price"),
    ];
    table("What to buy", &columns, &rows)
}

fn resin(s: &Sheet) -> String {
    let b = s.resin();
    let g = Show::digits(0).times(1e3);
    let rows: Vec<Row> = (0..b.len("/batches"))
        .map(|i| {
            let at = |field: &str| format!("/batches/{i}/{field}");
            let glue = b.value.pointer(&at("glue")).and_then(serde_json::Value::as_bool).unwrap_or(false);
            let laid = |field: &str, show: Show| if glue { "-".to_owned() } else { b.num(&at(field), show) };
            let split = if b.get(&at("pot_resin_kg")).is_some() {
                format!("{} + {}", b.num(&at("pot_resin_kg"), g), b.num(&at("pot_hardener_kg"), g))
            } else if glue {
                "glue".to_owned()
            } else {
                "no ratio given".to_owned()
            };
            vec![
                b.word(&at("lay_up")),
                b.num(&at("times"), Show::digits(0)),
                laid("fibre_kg", g),
                b.num(&at("stays_kg"), g),
                b.num(&at("core_filling_kg"), g),
                b.num(&at("mixed_kg"), g),
                laid("minutes", Show::digits(0)),
                format!("{} of {}", b.num(&at("pots"), Show::digits(0)), b.num(&at("pot_kg"), g)),
                split,
            ]
            .into()
        })
        .collect();
    let columns = [
        words("lay-up"),
        numbers("alike"),
        numbers("fibre, g"),
        numbers("stays, g"),
        numbers("fills the core, g"),
        numbers("mixed, g"),
        numbers("minutes"),
        words("pots, g"),
        words("resin + hardener of a pot, g"),
    ];
    table("Resin by batch: of one of those alike", &columns, &rows)
}

fn parts(s: &Sheet) -> String {
    if s.scales().is_some() {
        return para("Every part with the mass to stop at stands under the weigh-in.");
    }
    let b = s.parts();
    let three = Show::digits(3);
    let rows: Vec<Row> = (0..b.len("/parts"))
        .map(|i| {
            let at = |field: &str| format!("/parts/{i}/{field}");
            let made = b.value.pointer(&at("weighed")).and_then(serde_json::Value::as_bool).unwrap_or(false);
            let stop = if made { "weighed".to_owned() } else { b.num_or(&at("stop_kg"), three, "no target") };
            let cut: u64 = (0..b.len(&at("blanks")))
                .filter_map(|k| b.value.pointer(&at(&format!("blanks/{k}/count")))?.as_u64())
                .sum();
            vec![
                b.word(&at("part")),
                b.num(&at("as_drawn_kg"), three),
                b.num(&at("expected_kg"), three),
                stop,
                if cut > 0 { cut.to_string() } else { "-".to_owned() },
                b.num_or(&at("hours"), Show::digits(1), "-"),
            ]
            .into()
        })
        .collect();
    let columns = [
        words("part, both halves"),
        numbers("as drawn, kg"),
        numbers("expected, kg"),
        numbers("stop at, kg"),
        numbers("blanks"),
        numbers("hours"),
    ];
    table("Every part, and the mass it must not pass", &columns, &rows)
}
