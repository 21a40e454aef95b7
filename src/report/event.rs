//! One handling event on every construction it meets: what stands against it, the chance of damage, what that costs;
//! and what the edges of the skins stand.

use crate::physics::assumptions::Assumptions;
use crate::physics::design::Design;
use crate::physics::durability::edges::{self, EdgeStand};
use crate::physics::durability::events::Contact;
use crate::physics::durability::resistance::Spot;
use crate::physics::durability::term::{Chances, Ground, Term};
use crate::physics::evaluation::Evaluation;
use crate::physics::laminate::construction::Kind;
use crate::physics::samples::record::Form;

fn ground<'a>(design: &'a Design, e: &'a Evaluation, a: &'a Assumptions) -> Ground<'a> {
    Ground::new((design, &e.layout, &e.skins), e.weight.expected_kg.max(1.0) / 2.0, a)
}

/// The weakest trailing edge, rib line and boundary joint.
pub fn edges(design: &Design, e: &Evaluation) -> Vec<EdgeStand> {
    edges::weakest(&ground(design, e, &Assumptions::default()))
}

/// "trailing edge 14 N, 2.2 mJ" for each kind of edge.
pub fn edge_words(all: &[EdgeStand]) -> Vec<String> {
    all.iter().map(|s| format!("{} {:.0} N, {:.1} mJ", s.edge.word(), s.ball_n, 1e3 * s.blow_j)).collect()
}

/// What a construction stands at one kind of place, summed over its zones.
struct Met {
    construction: usize,
    spot: Spot,
    per_100: f64,
    /// Times chance of a mark or worse, and of a hole.
    marks: f64,
    holes: f64,
    severity: f64,
    /// Least of mark, soft spot and hole over the zones, and of the soft spot by itself.
    first: f64,
    soft: f64,
    hole: f64,
}

const fn spot_word(spot: Spot) -> &'static str {
    match spot {
        Spot::Mid => "between ribs",
        Spot::Rib => "over a rib",
        Spot::Joint => "boundary joint",
        Spot::Edge => "trailing edge",
    }
}

/// Unit of a severity, and the factor to it.
const fn unit(c: Contact) -> (&'static str, f64) {
    match c {
        Contact::Pad { .. } | Contact::Ball { .. } => ("N", 1.0),
        Contact::Pressure { .. } => ("kPa", 1e-3),
        Contact::Edge => ("N/mm", 1e-3),
        Contact::Blow { .. } => ("J", 1.0),
    }
}

/// Lines for the working of an event: each construction it meets, the resisting load and the chance of damage.
pub fn met(design: &Design, e: &Evaluation, key: &str) -> Vec<String> {
    let events = &design.care.catalogue.events;
    let Some((which, event)) = events.iter().enumerate().find(|(_, v)| v.key == key) else { return Vec::new() };
    let a = Assumptions::default();
    let mut all: Vec<Met> = Vec::new();
    ground(design, e, &a).each(&mut |t: &Term, c: &Chances| {
        if t.event != which {
            return;
        }
        let Some(construction) = e.layout.zones.get(t.zone).map(|z| z.construction) else { return };
        let first = t.stands.iter().copied().fold(f64::INFINITY, f64::min);
        let (marks, holes) = (t.per_100 * c.p[0], t.per_100 * c.p[2]);
        match all.iter_mut().find(|m| m.construction == construction && m.spot == t.spot) {
            Some(m) => {
                m.per_100 += t.per_100;
                m.marks += marks;
                m.holes += holes;
                m.first = m.first.min(first);
                m.hole = m.hole.min(t.stands[2]);
                m.soft = m.soft.min(t.stands[1]);
                m.severity = m.severity.max(t.severity);
            }
            None => all.push(Met {
                construction,
                spot: t.spot,
                per_100: t.per_100,
                marks,
                holes,
                severity: t.severity,
                first,
                soft: t.stands[1],
                hole: t.stands[2],
            }),
        }
    });
    all.sort_by(|a, b| b.marks.total_cmp(&a.marks));
    let (unit, scale) = unit(event.contact);
    let mut out = vec![
        format!("median of the event against what each construction stands, {unit}"),
        "and the chance, each time, of damage and of a hole".to_owned(),
    ];
    let mut told: Vec<usize> = Vec::new();
    for m in all.iter().filter(|m| m.per_100 > 0.0) {
        let name = design.constructions.get(m.construction).map_or("", |c| c.key.as_str());
        let hole = if m.hole.is_finite() { short(m.hole * scale) } else { "-".to_owned() };
        let chances = (percent(m.marks / m.per_100), percent(m.holes / m.per_100));
        out.push(format!(
            " {name:<18} {:<14} {:>5} on {:>5}, hole {hole:>5} {:>7} {:>7}",
            spot_word(m.spot),
            short(m.severity * scale),
            short(m.first * scale),
            chances.0,
            chances.1
        ));
        let kind = e.skins.get(m.construction).map_or(Kind::Open, |s| s.kind);
        if matches!(kind, Kind::Sandwich | Kind::OneFaced) && m.soft > m.first && m.soft.is_finite() {
            out.push(format!("   soft spot, a dent of 1 mm: {} !", short(m.soft * scale)));
        }
        let form = Form::of(kind, event.contact);
        if let Some(k) =
            e.skins.get(m.construction).and_then(|s| s.known(form)).filter(|_| !told.contains(&m.construction))
        {
            told.push(m.construction);
            out.push(format!("   samples: {}", super::samples::known_words(k)));
        }
    }
    out
}

fn short(v: f64) -> String {
    let digits = [100.0, 10.0, 1.0].iter().position(|least| v >= *least).unwrap_or(3);
    format!("{v:.digits$}")
}

/// A chance is never quite nothing: under 0.1 % it says so.
fn percent(p: f64) -> String {
    if p < 0.001 { "<0.1 %".to_owned() } else { format!("{:.1} %", 100.0 * p) }
}
