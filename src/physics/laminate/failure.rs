//! First-ply failure as a multiplier on the load.

/// Plane stress, Pa.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Stress {
    pub s1_pa: f64,
    pub s2_pa: f64,
    pub t12_pa: f64,
}

/// Strengths of a ply, Pa, all positive.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Strengths {
    pub xt_pa: f64,
    pub xc_pa: f64,
    pub yt_pa: f64,
    pub yc_pa: f64,
    pub s12_pa: f64,
}

/// Stress in axes turned by an angle. **Source:** Mohr's circle, any text.
pub fn in_ply_axes(sx_pa: f64, sy_pa: f64, txy_pa: f64, angle_rad: f64) -> Stress {
    let (s, c) = angle_rad.sin_cos();
    Stress {
        s1_pa: c * c * sx_pa + s * s * sy_pa + 2.0 * s * c * txy_pa,
        s2_pa: s * s * sx_pa + c * c * sy_pa - 2.0 * s * c * txy_pa,
        t12_pa: -s * c * sx_pa + s * c * sy_pa + (c * c - s * s) * txy_pa,
    }
}

fn over(limit: f64, value: f64) -> f64 {
    if value.abs() > 0.0 { limit / value.abs() } else { f64::INFINITY }
}

/// Maximum stress: the least of the multipliers by component and sign.
pub fn max_stress(s: Stress, k: &Strengths) -> f64 {
    let a = over(if s.s1_pa >= 0.0 { k.xt_pa } else { k.xc_pa }, s.s1_pa);
    let b = over(if s.s2_pa >= 0.0 { k.yt_pa } else { k.yc_pa }, s.s2_pa);
    a.min(b).min(over(k.s12_pa, s.t12_pa))
}

/// Tsai-Hill with strengths picked by sign: multiplier = 1/sqrt(index).
/// **Source:** Kaw, *Mechanics of Composite Materials*, 2006 (from memory), recomputed.
pub fn tsai_hill(s: Stress, k: &Strengths) -> f64 {
    let x = if s.s1_pa >= 0.0 { k.xt_pa } else { k.xc_pa };
    let y = if s.s2_pa >= 0.0 { k.yt_pa } else { k.yc_pa };
    let x2 = if s.s2_pa >= 0.0 { k.xt_pa } else { k.xc_pa };
    let index =
        (s.s1_pa / x).powi(2) - s.s1_pa * s.s2_pa / (x2 * x2) + (s.s2_pa / y).powi(2) + (s.t12_pa / k.s12_pa).powi(2);
    if index > 0.0 { 1.0 / index.sqrt() } else { f64::INFINITY }
}

/// Tsai-Wu with F12 = -0.5 sqrt(F11 F22): the positive root R of a R^2 + b R - 1 = 0.
/// **Source:** Kaw 2006 (from memory), recomputed. Infinite at zero load.
pub fn tsai_wu(s: Stress, k: &Strengths) -> f64 {
    let (f1, f2) = (1.0 / k.xt_pa - 1.0 / k.xc_pa, 1.0 / k.yt_pa - 1.0 / k.yc_pa);
    let (f11, f22, f66) = (1.0 / (k.xt_pa * k.xc_pa), 1.0 / (k.yt_pa * k.yc_pa), 1.0 / (k.s12_pa * k.s12_pa));
    let f12 = -0.5 * (f11 * f22).sqrt();
    let a = f11 * s.s1_pa.powi(2) + f22 * s.s2_pa.powi(2) + f66 * s.t12_pa.powi(2) + 2.0 * f12 * s.s1_pa * s.s2_pa;
    let b = f1 * s.s1_pa + f2 * s.s2_pa;
    if a <= 0.0 { f64::INFINITY } else { (-b + (b * b + 4.0 * a).sqrt()) / (2.0 * a) }
}
