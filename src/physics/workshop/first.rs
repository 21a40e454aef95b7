//! What gives first under the loads of a test: the modes it brings on, worked out as for the cases of the wing.

use crate::physics::design::Design;
use crate::physics::evaluation::Evaluation;
use crate::physics::loads::internal::{CaseLoads, Loads};
use crate::physics::strength::{Context, Margin, Verdict, margins_of, sizing};

/// Margins at ultimate of the modes brought on, under these limit loads alone in still air, least first; what is not shown or not
/// loaded is left out.
pub fn on_the_rig(design: &Design, e: &Evaluation, loads: &CaseLoads, brought: &[&str]) -> Vec<Margin> {
    let mut loads = Loads { loads: vec![loads.clone()], ..e.loads.clone() };
    // The air of the hangar stands still: ribs ask the case how fast it is flown.
    for c in &mut loads.cases {
        (c.speed_m_s, c.cl, c.control_sym_rad, c.control_anti_rad) = (0.0, 0.0, 0.0, 0.0);
    }
    let bent = sizing::bend(&e.layout, &e.sections, &loads);
    let c = Context::new(design, (&e.layout, &e.skins, &loads), (&e.sizing, &e.sections, &bent));
    let mut out = margins_of(&c, |mode| brought.contains(&mode));
    out.retain(|m| !matches!(m.verdict, Verdict::NotShown(_)) && m.rf.is_finite());
    out.sort_by(|a, b| a.rf.total_cmp(&b.rf));
    out
}

/// The least margin of each mode, in the order given.
pub fn of_each_mode(mut margins: Vec<Margin>) -> Vec<Margin> {
    let mut seen: Vec<&str> = Vec::new();
    margins.retain(|m| !seen.contains(&m.mode) && (seen.push(m.mode), true).1);
    margins
}
