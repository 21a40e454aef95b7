//! The log of samples in words: predicted against measured, what was learnt, which to make next.

use std::fmt::Write as _;

use serde_json::{Value, json};

use crate::physics::assumptions::LIST;
use crate::physics::design::Design;
use crate::physics::durability::index;
use crate::physics::durability::spread;
use crate::physics::evaluation::Evaluation;
use crate::physics::laminate::construction::{Construction, Skin};
use crate::physics::samples::learnt::{Against, OF_MASS};
use crate::physics::samples::next::{self, Next};
use crate::physics::samples::record::Form;
use crate::physics::samples::rule::{self, Known, Shared};

/// The rule in one sentence, with its source.
pub const RULE: &str = "ln(measured/predicted) is normal: an error shared by all constructions of a form, a part of each \
construction and the scatter of specimens (before samples from material and process, then as seen); both parts are learnt together (conjugate normal \
law), and few specimens widen the scatter by the law of Student";

/// Beside what was pressed with a contact, or on a face and core, that its form was not fitted for.
pub const FAR: &str = "outside what the form was fitted for (contact size, face, core)";

/// One record against its prediction, in words.
pub struct Row {
    pub number: usize,
    pub construction: String,
    pub what: String,
    pub predicted: String,
    pub measured: String,
    pub ratio: f64,
    pub specimens: u32,
    pub scatter: String,
    pub fitted: bool,
}

fn amount(a: &Against, v: f64) -> String {
    if a.form.is_some() { format!("{v:.0} N") } else { format!("{:.0} g/m2", v * 1e3) }
}

/// Every prediction against what was measured, in the order of the log.
pub fn rows(design: &Design) -> Vec<Row> {
    let key = |a: &Against| design.samples.get(a.sample).map_or("", |s| s.construction.as_str()).to_owned();
    let mut all: Vec<&Against> = design.library.learnt.against.iter().collect();
    all.sort_by_key(|a| a.sample);
    all.iter()
        .map(|a| Row {
            number: a.sample + 1,
            construction: key(a),
            what: a.what.clone(),
            predicted: amount(a, a.predicted),
            measured: amount(a, a.measured),
            ratio: a.measured / a.predicted,
            specimens: a.specimens,
            scatter: a.sd.map_or_else(|| "-".to_owned(), |sd| format!("{:.0} %", 100.0 * sd)),
            fitted: a.fitted,
        })
        .collect()
}

/// Factors on what weights rest on.
pub fn mass_words(design: &Design) -> Vec<String> {
    let learnt = &design.library.learnt;
    if !learnt.weighed() {
        return Vec::new();
    }
    OF_MASS
        .iter()
        .zip(&learnt.mass)
        .filter(|(_, s)| s.kept < 0.999 || s.mean.abs() > 5e-4)
        .map(|(which, s)| {
            let title = LIST[*which as usize].title;
            format!("{title} x {:.3}, {:.0} % of its spread is left", s.mean.exp(), 100.0 * s.kept)
        })
        .collect()
}

/// Prior, samples and what is left, of one construction in one form.
pub fn known_words(k: &Known) -> String {
    let from = if k.specimens > 0 {
        format!("{} of its own, {} in all", k.specimens, k.of_form)
    } else {
        format!("none of its own, {} of others", k.of_form)
    };
    format!("x {:.2}, spread {:.2} before, {:.2} now ({from})", k.shift.exp(), k.before, k.beta)
}

/// What specimens taught of the error that all constructions of a form share.
pub fn others_words(f: Form, s: &Shared) -> String {
    let (before, now) = (spread::shared(f), s.variance.sqrt());
    format!("x {:.2}, spread of the form {before:.2} before, {now:.2} now ({} of others)", s.mean.exp(), s.of_form)
}

/// What is known of a skin from samples: a line for each form, nothing without.
pub fn of_skin(s: &Skin) -> Vec<String> {
    Form::ALL.iter().filter_map(|f| s.known(*f).map(|k| format!("{}: {}", f.word(), known_words(k)))).collect()
}

/// What was learnt, construction by construction.
pub fn learnt_words(design: &Design) -> Vec<String> {
    let learnt = &design.library.learnt;
    let mut out = mass_words(design);
    let name = |c: &Construction| c.key.clone();
    for o in &learnt.own {
        if o.pieces > 0 {
            out.push(format!(
                "{}: {:+.1} % areal mass beyond the factors above",
                name(&o.made),
                100.0 * o.mass.exp_m1()
            ));
        }
        for f in Form::ALL.iter().filter(|f| o.groups[**f as usize].specimens > 0.0) {
            if let Some(k) = &o.of_skin.forms[*f as usize] {
                out.push(format!("{}, {}: {}", name(&o.made), f.word(), known_words(k)));
            }
        }
    }
    if let Some(others) = &learnt.others {
        for (f, s) in Form::ALL.iter().zip(others) {
            if let Some(s) = s {
                out.push(format!("any other construction, {}: {}", f.word(), others_words(*f, s)));
            }
        }
    }
    out
}

/// What specimens tell without any prediction: a load that nine places in ten stand, with 95 % confidence.
pub fn alone_words(design: &Design) -> Vec<String> {
    let key = |a: &Against| design.samples.get(a.sample).map_or("", |s| s.construction.as_str()).to_owned();
    let all = design.library.learnt.against.iter();
    all.filter_map(|a| {
        let k = rule::tolerance_factor(a.specimens, 0.9, 0.95);
        let n = a.measured * (-k * a.sd?).exp();
        Some(format!("{}, {}: {n:.0} N from {} specimens alone, k {k:.2}", key(a), a.what, a.specimens))
    })
    .collect()
}

/// The candidates for the next sample.
pub fn next_words(design: &Design, e: &Evaluation) -> Vec<String> {
    next::rank(design, e).iter().map(|n| next_line(design, e, n)).collect()
}

/// One candidate.
pub fn next_line(design: &Design, e: &Evaluation, n: &Next) -> String {
    let key = design.constructions.get(n.construction).map_or("", |c| c.key.as_str());
    let h = e.durability.repair_h;
    let band = |sd: f64| {
        let [low, high] = Next::band(h, sd);
        format!("{low:.0}-{high:.0}")
    };
    format!(
        "{key:<20} {:<12} {:>4.1} h  index {} to {}  sd {:.2} to {:.2} kg  {:>4.1} % an hour",
        n.presses,
        n.hours,
        band(n.ln_hours[0]),
        band(n.ln_hours[1]),
        n.weight_sd_kg[0],
        n.weight_sd_kg[1],
        100.0 * n.band_per_hour()
    )
}

/// The log as plain text.
pub fn text(design: &Design) -> String {
    let mut out = String::new();
    let n = design.samples.len();
    let _ = writeln!(out, "{}: {n} sample{}", design.name, if n == 1 { "" } else { "s" });
    for (i, s) in design.samples.iter().enumerate() {
        let words = [&s.date, &s.construction, &s.how, &s.note].into_iter().filter(|w| !w.is_empty());
        let _ = writeln!(out, "  {:>2}  {}", i + 1, words.cloned().collect::<Vec<_>>().join(", "));
    }
    if design.samples.is_empty() {
        let _ = writeln!(out, "  none: `thistledown samples FILE --next` says which to make first");
        return out;
    }
    let _ = writeln!(out, "\npredicted before any sample, against measured");
    let head = ["predicted", "measured", "ratio", "n", "scatter"];
    let _ = writeln!(
        out,
        "  {:>2}  {:<20} {:<26} {:>9} {:>9} {:>5} {:>3} {:>7}",
        "#", "construction", "what", head[0], head[1], head[2], head[3], head[4]
    );
    for r in rows(design) {
        let mark = if r.fitted { "" } else { " !" };
        let _ = writeln!(
            out,
            "  {:>2}  {:<20} {:<26} {:>9} {:>9} {:>5.2} {:>3} {:>7}{mark}",
            r.number, r.construction, r.what, r.predicted, r.measured, r.ratio, r.specimens, r.scatter
        );
    }
    if rows(design).iter().any(|r| !r.fitted) {
        let _ = writeln!(out, "  ! {FAR}: used, but extrapolated");
    }
    let _ = writeln!(out, "\nwhat was learnt");
    for w in learnt_words(design) {
        let _ = writeln!(out, "  {w}");
    }
    let _ = writeln!(out, "\nnine places in ten stand, with 95 % confidence (one-sided tolerance factor, B-basis)");
    for w in alone_words(design) {
        let _ = writeln!(out, "  {w}");
    }
    let _ = writeln!(out, "\nrule: {RULE}");
    let _ = writeln!(out, "durability is {}", index::calibration(&design.library.learnt));
    out
}

/// The ranking as plain text.
pub fn next_text(design: &Design, e: &Evaluation) -> String {
    let mut out = String::new();
    let _ = writeln!(
        out,
        "which sample next: a panel of 0.09 m2, 3 pieces weighed, {} pressed with each tool; the band of the index and the \
         spread of the weight now and after it",
        next::SPECIMENS
    );
    for w in next_words(design, e) {
        let _ = writeln!(out, "  {w}");
    }
    out
}

fn known_json(k: &Known) -> Value {
    json!({
        "factor": k.shift.exp(), "spread_before": k.before, "spread_now": k.beta, "share_of_model_spread_left": k.kept,
        "specimens": k.specimens, "specimens_of_form": k.of_form,
    })
}

/// Records, predictions, what was learnt, what next.
pub fn json(design: &Design, e: &Evaluation) -> Value {
    let learnt = &design.library.learnt;
    let against: Vec<Value> = learnt
        .against
        .iter()
        .map(|a| {
            json!({
                "sample": a.sample + 1, "construction": design.samples.get(a.sample).map(|s| s.construction.clone()),
                "form": a.form.map(Form::word), "what": a.what, "unit": if a.form.is_some() { "N" } else { "kg/m2" },
                "predicted": a.predicted, "measured": a.measured, "specimens": a.specimens, "sd_of_logarithm": a.sd,
                "within_30_percent": a.form.map(|_| a.within), "extrapolated": !a.fitted,
            })
        })
        .collect();
    let forms = |of: &crate::physics::samples::learnt::OfSkin| -> serde_json::Map<String, Value> {
        let each = Form::ALL.iter().zip(&of.forms);
        each.filter_map(|(f, k)| k.map(|k| (f.word().to_owned(), known_json(&k)))).collect()
    };
    let own: Vec<Value> = learnt
        .own
        .iter()
        .map(|o| json!({"construction": o.made.key, "pieces_weighed": o.pieces, "mass_factor": o.mass.exp(), "forms": forms(&o.of_skin)}))
        .collect();
    let mass: Vec<Value> = if learnt.weighed() {
        let each = OF_MASS.iter().zip(&learnt.mass);
        each.map(|(w, s)| json!({"assumption": LIST[*w as usize].key, "factor": s.mean.exp(), "share_of_spread_left": s.kept}))
            .collect()
    } else {
        Vec::new()
    };
    let next: Vec<Value> = next::rank(design, e)
        .iter()
        .map(|n| {
            json!({
                "construction": design.constructions.get(n.construction).map(|c| c.key.clone()), "pressed_with": n.presses,
                "hours": n.hours, "sd_of_ln_repair_h": n.ln_hours, "weight_sd_kg": n.weight_sd_kg,
                "share_of_band_per_hour": n.band_per_hour(), "share_of_weight_spread_per_hour": n.weight_per_hour(),
            })
        })
        .collect();
    let (dents, within) = learnt.dents();
    let any_other = learnt.others.map(|o| {
        let each = Form::ALL.into_iter().zip(o).filter_map(|(f, s)| s.map(|s| (f, s)));
        let told = |(f, s): (Form, Shared)| {
            let v = json!({
                "factor": s.mean.exp(), "form_spread_before": spread::shared(f), "form_spread_now": s.variance.sqrt(),
                "scatter_over_assumed": s.scale, "specimens_of_form": s.of_form,
            });
            (f.word().to_owned(), v)
        };
        each.map(told).collect::<serde_json::Map<String, Value>>()
    });
    json!({
        "records": design.samples.len(), "rule": RULE, "predicted_against_measured": against, "masses": mass, "constructions": own,
        "any_other": any_other, "dents": { "loads": dents, "within_30_percent": within }, "next": next,
    })
}
