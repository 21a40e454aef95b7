//! Tables of an evaluation as comma-separated values, by RFC 4180 but for line ends: the numbers of the JSON, a line each.

use serde_json::Value;

use crate::physics::design::Design;
use crate::physics::evaluation::Evaluation;

/// A table other programs may read.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Table {
    Parts,
    Margins,
    /// Shear, moments, torque, deflection and twist of every case along the half wing.
    Loads,
    /// What every zone of skin stands and costs.
    Zones,
    Events,
    Polar,
}

impl Table {
    pub const ALL: [Self; 6] = [Self::Parts, Self::Margins, Self::Loads, Self::Zones, Self::Events, Self::Polar];
    pub const fn key(self) -> &'static str {
        match self {
            Self::Parts => "parts",
            Self::Margins => "margins",
            Self::Loads => "loads",
            Self::Zones => "zones",
            Self::Events => "events",
            Self::Polar => "polar",
        }
    }
    /// Where its rows stand in the JSON, and which of their fields are columns.
    const fn rows(self) -> (&'static str, &'static [&'static str]) {
        match self {
            Self::Parts => {
                ("/parts", &["heading", "name", "strip", "bay", "nominal_kg", "growth", "sd_kg", "x_m", "y_m"])
            }
            Self::Margins => (
                "/margins",
                &[
                    "mode",
                    "strip",
                    "bay",
                    "case",
                    "margin",
                    "verdict",
                    "why",
                    "applied",
                    "allowable",
                    "unit",
                    "formula",
                    "source",
                    "judged_at",
                ],
            ),
            Self::Loads => ("/loads/cases", &["key", "n", "speed_m_s", "pilot_kg"]),
            Self::Zones => (
                "/durability/zones",
                &[
                    "strip",
                    "bay",
                    "area_m2",
                    "press_n",
                    "press_kind",
                    "ball_n",
                    "ball_kind",
                    "extrapolated",
                    "repair_h_per_100",
                    "outings_lost_per_100",
                    "unseen_per_100",
                    "hold_safe",
                    "palm_safe",
                ],
            ),
            Self::Events => (
                "/durability/events",
                &[
                    "key",
                    "title",
                    "per_100_outings",
                    "share_on_holds_and_rests",
                    "marks",
                    "holes",
                    "repair_h",
                    "outings_lost",
                    "unseen",
                    "cause",
                    "source",
                    "assumption",
                ],
            ),
            Self::Polar => ("/flight/polar", &["speed_m_s", "sink_m_s", "cl", "cd"]),
        }
    }
}

/// Lists of a load case, a value for each station.
const ALONG: [&str; 6] = ["shear_n", "moment_nm", "torque_nm", "inplane_nm", "deflection_m", "twist_rad"];

/// The table, its first line the names of its columns.
pub fn table(design: &Design, e: &Evaluation, which: Table) -> String {
    let all = super::json::evaluation(design, e);
    let (place, columns) = which.rows();
    let rows = all.pointer(place).and_then(Value::as_array).map_or(&[][..], Vec::as_slice);
    let own = |row: &Value| columns.iter().map(|c| text(row.get(c))).collect::<Vec<_>>();
    let along = which == Table::Loads;
    let mut head: Vec<&str> = columns.to_vec();
    if along {
        head.push("station_m");
        head.extend(ALONG);
    }
    let mut out = line(head.iter().map(|c| (*c).to_owned()));
    let stations = all.pointer("/loads/stations_m").and_then(Value::as_array).map_or(&[][..], Vec::as_slice);
    for row in rows {
        if !along {
            out.push_str(&line(own(row)));
            continue;
        }
        for (i, y_m) in stations.iter().enumerate() {
            let here = ALONG.iter().map(|list| text(row.get(list).and_then(|l| l.get(i))));
            out.push_str(&line(own(row).into_iter().chain([text(Some(y_m))]).chain(here)));
        }
    }
    out
}

/// A value as a cell; nothing where there is none.
fn text(v: Option<&Value>) -> String {
    match v {
        None | Some(Value::Null) => String::new(),
        Some(Value::String(s)) => s.clone(),
        Some(other) => other.to_string(),
    }
}

/// One line.
pub fn line(cells: impl IntoIterator<Item = String>) -> String {
    cells.into_iter().map(|c| cell(&c)).collect::<Vec<_>>().join(",") + "\n"
}

/// A cell, in quotes where it must be.
pub fn cell(words: &str) -> String {
    if words.contains([',', '"', '\n', '\r']) {
        format!("\"{}\"", words.replace('"', "\"\""))
    } else {
        words.to_owned()
    }
}
