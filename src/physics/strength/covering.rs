//! What the covering modes share: covered zones and the pressure on them.

use crate::physics::material::Covering;
use crate::physics::strength::Context;
use crate::physics::wing::layout::Zone;

/// Each covered zone with its covering, pretension, greatest limit pressure and the case of it.
pub fn each(c: &Context, mut f: impl FnMut(&Zone, &Covering, f64, f64, usize)) {
    for z in &c.layout.zones {
        let Some(u) = c.skins.get(z.construction).and_then(|s| s.covering) else { continue };
        let Some(m) = c.design.library.coverings.get(u.covering) else { continue };
        let (p, case) = super::skins::pressure(c, z);
        f(z, m, u.pretension_n_m, p, case);
    }
}
