//! Keys of a scenario that are no dials: they are edited in the file.

/// Their paths; `*` is any one word, a `*` at the end of a word any ending.
const PATHS: [&str; 43] = [
    "format",
    "name",
    "note",
    "section.*.*",
    "layout.control.*.*",
    "layout.joint.*.*",
    "layout.divide_*",
    "ribs.kind.*.*",
    "ribs.region.*.*",
    "ribs.end_moment_n_m",
    "spar.bond_width_mm",
    "spar.*.layers.most",
    "spar.lower_cap.layers.least",
    "spar.*.backing.*",
    "spar.cap.*.*",
    "spar.posts.*.*",
    "spar.web.*.*",
    "skins.nose_steps",
    "skins.may_buckle",
    "skins.*.*.to",
    "patch.*.*",
    "aboard.mass.*.*",
    "aboard.pilot_drag_m2",
    "aboard.rigging_drag_m2",
    "aboard.tailless",
    "service.hot_core_share",
    "care.event.*.share",
    "care.protection.*.*",
    "limits.set",
    "cases_off.*.*",
    "accepted.*.*",
    "targets.*",
    "rates.*",
    "rates.*.*",
    "workshop.*",
    "workshop.stock.*.*",
    "sample.*.*",
    "weighed.*.*",
    "proof.*.*",
    "search.*",
    "seams.*",
    "seams.*.*",
    "materials.*.*.*",
];

/// Whether a key that is no dial stands in a scenario file all the same.
pub fn is_in_file(key: &str) -> bool {
    let fits = |word: &str, asked: &str| match word.strip_suffix('*') {
        Some(start) => asked.len() > start.len() && asked.starts_with(start),
        None => word == asked,
    };
    PATHS.iter().any(|path| {
        let (words, asked): (Vec<&str>, Vec<&str>) = (path.split('.').collect(), key.split('.').collect());
        words.len() == asked.len() && words.iter().zip(&asked).all(|(w, a)| fits(w, a))
    })
}
