//! The keys of the load cases, and which of them a name means.

/// Keys of every case that may be built; a test holds the list to what is built.
pub const KEYS: &[&str] = &[
    "pull_va_light",
    "pull_va_heavy",
    "pull_vd_light",
    "pull_vd_heavy",
    "push_va_light",
    "push_va_heavy",
    "push_vd_light",
    "push_vd_heavy",
    "pull_back_va_light",
    "pull_back_va_heavy",
    "pull_back_vd_light",
    "pull_back_vd_heavy",
    "push_back_va_light",
    "push_back_va_heavy",
    "push_back_vd_light",
    "push_back_vd_heavy",
    "gust_up_rough_light",
    "gust_up_rough_heavy",
    "gust_down_rough_light",
    "gust_down_rough_heavy",
    "gust_up_vd_light",
    "gust_up_vd_heavy",
    "gust_down_vd_light",
    "gust_down_vd_heavy",
    "dive_torsion",
    "dive_push",
    "roll_va_down",
    "roll_va_up",
    "roll_vd_down",
    "roll_vd_up",
    "roll_va_down_idle",
    "roll_va_up_idle",
    "pitch_va_down",
    "pitch_va_up",
    "pitch_vd_up",
    "landing_hang",
    "landing_nose",
    "carried_one",
    "carried_two",
    "one_end_down",
    "one_end_lifted",
    "tip_caught",
    "parked_wind",
    "rack_bump_down",
    "rack_over_bump",
    "rack_bump_up",
    "rack_air",
    "rack_air_down",
    "rack_over_air",
];

/// Keys of those that are built for tailless wings alone: their own controls turn and trim them.
pub const TAILLESS: &[&str] = &[
    "pull_back_va_light",
    "pull_back_va_heavy",
    "pull_back_vd_light",
    "pull_back_vd_heavy",
    "push_back_va_light",
    "push_back_va_heavy",
    "push_back_vd_light",
    "push_back_vd_heavy",
    "pitch_va_down",
    "pitch_va_up",
    "pitch_vd_up",
];

/// Is a case one of a name, which may be its key or the first words of it (`gust` is every gust case)?
pub fn is_of(case: &str, name: &str) -> bool {
    case == name || (!name.is_empty() && case.strip_prefix(name).is_some_and(|rest| rest.starts_with('_')))
}

/// Manoeuvres of a tailless wing with the controls back, in the order of those with the controls where they trim.
pub(super) const BACK_NAMES: [(&str, &str); 8] = [
    ("pull_back_va_light", "pull at VA, controls back, lightest pilot"),
    ("pull_back_va_heavy", "pull at VA, controls back, heaviest pilot"),
    ("pull_back_vd_light", "pull at VD, controls back, lightest pilot"),
    ("pull_back_vd_heavy", "pull at VD, controls back, heaviest pilot"),
    ("push_back_va_light", "push, controls back, lightest pilot"),
    ("push_back_va_heavy", "push, controls back, heaviest pilot"),
    ("push_back_vd_light", "push at VD, controls back, lightest pilot"),
    ("push_back_vd_heavy", "push at VD, controls back, heaviest pilot"),
];
