//! Conversions used at the edge, and the few physical constants. Definitions are exact.

/// Standard acceleration of gravity, m/s2. **Source:** 3rd CGPM (1901), exact by definition.
pub const GRAVITY_M_S2: f64 = 9.80665;
/// Sea-level density of the standard atmosphere, kg/m3. **Source:** ISO 2533.
pub const AIR_DENSITY_KG_M3: f64 = 1.225;
/// Sea-level kinematic viscosity of the standard atmosphere, m2/s. **Source:** ISO 2533 (from memory).
pub const AIR_VISCOSITY_M2_S: f64 = 1.4607e-5;
/// One international foot, m. **Source:** exact by definition (1959).
pub const FOOT_M: f64 = 0.3048;
/// One inch, m. **Source:** exact by definition (1959).
pub const INCH_M: f64 = 0.0254;
/// One yard, m. **Source:** exact by definition (1959).
pub const YARD_M: f64 = 0.9144;
/// One avoirdupois pound, kg. **Source:** exact by definition (1959).
pub const POUND_KG: f64 = 0.45359237;
/// One avoirdupois ounce, kg. **Source:** 1/16 lb, exact.
pub const OUNCE_KG: f64 = POUND_KG / 16.0;
/// One ounce per square yard, kg/m2.
pub const OZ_YD2_KG_M2: f64 = OUNCE_KG / (YARD_M * YARD_M);
/// One ounce per square foot, kg/m2.
pub const OZ_FT2_KG_M2: f64 = OUNCE_KG / (FOOT_M * FOOT_M);
/// One pound per cubic foot, kg/m3.
pub const LB_FT3_KG_M3: f64 = POUND_KG / (FOOT_M * FOOT_M * FOOT_M);
/// One pound-force per inch of width, N/m.
pub const LBF_IN_N_M: f64 = POUND_KG * GRAVITY_M_S2 / INCH_M;
/// One pound-force per square inch, Pa.
pub const PSI_PA: f64 = POUND_KG * GRAVITY_M_S2 / (INCH_M * INCH_M);
