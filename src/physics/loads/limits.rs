//! Limit sets shipped with the program. Neither is a certification: the pilot's own authority decides.

use crate::physics::design::LimitSet;

/// Keys of the sets that can be chosen by name.
pub const KEYS: [&str; 2] = ["foot_launched", "cs22_utility"];

/// Whether a set is of a code that asks the gusts of rough air to be met at no less than the manoeuvring speed.
///
/// **Source:** CS 22.335(c): VB not less than VA (read). A set that is no code's names the speed at which its limits end instead.
pub fn gusts_at_va(set: &LimitSet) -> bool {
    set.key.starts_with("cs22")
}

/// A shipped set by its key.
///
/// **Source:** in each set's own `source`. **Valid for:** a starting point; every number can be changed.
pub fn shipped(key: &str) -> Option<LimitSet> {
    match key {
        "foot_launched" => Some(LimitSet {
            key: "foot_launched".to_owned(),
            source:
                "assumption of this program, no rule: limit +4/-2 with factor 1.5 equals the +6/-3 a flying school \
                     gives as hang-glider certification loads (second-hand); gusts 15 and 7.5 m/s as CS-22. Ask your authority"
                    .to_owned(),
            n_positive: 4.0,
            n_negative: -2.0,
            safety_factor: 1.5,
            extra_factor: 1.0,
            dive_speed_m_s: 30.0,
            gust_m_s: 15.0,
            gust_dive_m_s: 7.5,
        }),
        "cs22_utility" => Some(LimitSet {
            key: "cs22_utility".to_owned(),
            source:
                "CS 22.337 category U values read second-hand (+5.3/-2.65 used at all speeds, safe side), factor 1.5 \
                     of 22.303; sailplane code, for comparison; design dive speed of 22.335(f) is about 50 m/s"
                    .to_owned(),
            n_positive: 5.3,
            n_negative: -2.65,
            safety_factor: 1.5,
            extra_factor: 1.0,
            dive_speed_m_s: 50.0,
            gust_m_s: 15.0,
            gust_dive_m_s: 7.5,
        }),
        _ => None,
    }
}
