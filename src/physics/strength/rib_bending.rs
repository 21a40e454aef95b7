//! Rib in bending.

use crate::physics::material::Mark;
use crate::physics::strength::{Context, Margin, Mode, Verdict, inputs, margin, rib_buckling, ribs};

pub const MODE: Mode = Mode {
    key: "rib_bending",
    title: "rib in bending",
    formula: "cap strain M/(h E A) of the aft rib at the spar; M of flat-plate lift falling to the trailing edge and of an even camber load",
    source: "cantilever, any text; chordwise loads of thin-aerofoil theory",
    mark: Mark::Computed,
    valid: "ribs with caps, or sheet ribs by a strip of the body 15 mm wide",
    safe_side: "all load on the aft part from the rib alone",
    knock_down: "0.8 on mean strain",
    power: 1.0,
    margins: Some(margins),
};

/// Width of sheet that works as a cap on a rib that has none, m. An allowance of ours.
const SHEET_WIDTH_M: f64 = 0.015;

/// E A of a cap of an aft rib, N, and its strain limit; nothing where the rib is not known.
/// Unchecked: no outside check runs it by itself.
pub fn cap(c: &Context, r: &ribs::AftRib) -> Option<(f64, f64)> {
    let (cap, width) = r.kind.cap.unwrap_or((r.kind.body, SHEET_WIDTH_M));
    let s = c.skins.get(cap)?;
    let limit = s.outer.strain_compression.min(s.outer.strain_tension);
    Some(((s.a.s11 * width).max(1e-9), if limit.is_finite() { limit } else { 0.0 }))
}

/// E A of a cap, N, and the strain that what closes a box, meets a joint or holds a control may bring into it: that of its material or
/// that at which it buckles off the rib, whichever is less; and whether it has no cap, so that its buckling is not computed.
pub(super) fn cap_or_buckling(c: &Context, r: &ribs::AftRib) -> Option<(f64, f64, bool)> {
    let (ea, strain) = cap(c, r)?;
    let buckles = rib_buckling::cap(c, r);
    let least = buckles.as_ref().map_or(strain, |b| strain.min(b.stands_n / ea));
    Some((ea, least, buckles.is_none()))
}

/// What holds by the strain of a bare edge alone is not shown.
pub(super) fn bare_edge(m: &mut Margin, bare: bool) {
    if bare && m.verdict == Verdict::Holds {
        m.verdict = Verdict::NotShown(rib_buckling::BARE);
    }
}

fn margins(c: &Context, out: &mut Vec<Margin>) {
    ribs::each(c, |r| {
        let Some((ea, limit)) = cap(c, &r) else { return };
        let m = r.most_moment.moment_nm.abs() * c.ultimate();
        out.push(margin(
            MODE.key,
            (Some(r.bay), None, Some(r.most_moment.case)),
            (ribs::cap_strain(m, r.depth_m, ea), limit, "strain"),
            inputs![
                ("M limit", r.most_moment.moment_nm, "N m"),
                ("aft length", r.length_m, "m"),
                ("depth", r.depth_m, "m"),
                ("cap E A", ea, "N"),
                ("factor", c.ultimate(), ""),
            ],
        ));
    });
}
