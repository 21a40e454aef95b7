//! An evaluation as text, JSON or a page: functions from results to strings.

pub mod care;
pub mod case_words;
pub mod compare;
pub mod csv;
pub mod cut_list;
pub mod event;
pub mod flight;
pub mod gives_first;
pub mod holds;
pub mod json;
pub mod layup;
pub mod load;
pub mod matrix;
/// The lightest durable mix.
pub mod mix;
pub mod mixing;
pub mod nose_steps;
pub mod outline;
pub mod page;
pub mod part_sheets;
pub mod parts;
pub mod profile;
pub mod samples;
pub mod score_words;
pub mod seen;
pub mod service;
pub mod spread;
pub mod sureness;
pub mod test_section;
pub mod text;
pub mod torsion_test;
pub mod vibration;
pub mod weigh_in;
pub mod workshop;

/// What is left out, in short, and where all of it stands.
macro_rules! not_assessed {
    () => {
        "Flutter, fatigue and more are not assessed: `thistledown explain not_assessed` lists all of it."
    };
}

/// The same as a sentence of its own, for sheets that are carried away.
pub const NOT_ASSESSED_SHORT: &str = not_assessed!();

/// The cautions every report carries.
pub const CAUTIONS: &str = concat!(
    "Estimates for design study; no approval to fly. ",
    not_assessed!(),
    " Loads and limits follow the pilot's own airworthiness rules; a qualified person checks and proof-tests before flight. \
     Resin, dust, solvents, hot-wire fumes and proof loading are hazards."
);

/// A number with its sign and so many digits; what rounds to nothing is +0, never -0.
pub fn signed(v: f64, digits: usize) -> String {
    let v = if v.abs() < 0.5 / 10_f64.powf(digits as f64) { 0.0 } else { v };
    format!("{v:+.digits$}")
}

/// Four significant figures, without noise.
pub fn four_figures(v: f64) -> String {
    let size = v.abs();
    if size == 0.0 {
        return "0".to_owned();
    }
    if !(1e-3..1e7).contains(&size) {
        return format!("{v:.3e}");
    }
    let digits = (3.0 - size.log10().floor()).max(0.0) as usize;
    format!("{v:.digits$}")
}

#[cfg(test)]
mod tests {
    use super::four_figures;

    #[test]
    fn four_figures_are_four() {
        let told = [0.0, 0.0123456, 0.81194, 1.5, 93.662, -120.64, 61440.2, 3.2e7, 4.56e-4].map(four_figures);
        assert_eq!(told, ["0", "0.01235", "0.8119", "1.500", "93.66", "-120.6", "61440", "3.200e7", "4.560e-4"]);
    }
}
