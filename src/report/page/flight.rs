//! Flight: sink against speed with its band, the drag polar, and the numbers.

use super::Sheet;
use super::html::{Doc, KM_H, M_S, Show, facts};
use super::plot::{Line, Look, Path, Plot};

const KMH: f64 = 3.6;

/// Plots and numbers.
pub(super) fn html(s: &Sheet) -> String {
    let a = s.assess();
    let mut out = format!(
        "<p>At budget weight; {}. The band is that of the drag of pilot and profile; pilot drag alone is worth two points of glide. Method: {}, {}.</p>\n\
         <div class=\"plots\">\n",
        if s.evaluation().flight.trimmed {
            "trimmed by the wing's own controls"
        } else {
            "nothing is trimmed, the load of a tail is left out"
        },
        s.cite("method", "lattice"),
        s.cite("method", "polar")
    );
    out.push_str(&sink(s, &a));
    out.push_str(&polar(s, &a));
    out.push_str("</div>\n");
    let f = |key: &str, show: Show| a.num(&format!("/flight/{key}"), show);
    let band = |key: &str, show: Show| {
        let [likely, low, high] = ["likely", "low", "high"].map(|k| format!("/flight/{key}/{k}"));
        a.band([&likely, &low, &high], show)
    };
    let (one, two) = (Show::digits(1), Show::digits(2));
    let kmh = one.times(KMH);
    let all = [
        ("all-up mass", format!("{} kg", f("all_up_kg", one))),
        (
            if s.evaluation().flight.trimmed {
                "greatest lift coefficient, trimmed"
            } else {
                "greatest lift coefficient of the wing alone"
            },
            f("cl_max_trimmed", two),
        ),
        ("stall", format!("{} {KM_H}", f("stall_m_s", kmh))),
        ("least sink", format!("{} {M_S} at {} {KM_H}", band("least_sink_m_s", two), f("least_sink_speed_m_s", kmh))),
        ("best glide", format!("{} at {} {KM_H}", band("best_glide", one), f("best_glide_speed_m_s", kmh))),
        ("speed to fly through sinking air", format!("{} {KM_H}", band("to_fly_m_s", kmh))),
        ("fastest at the sink asked", format!("{} {KM_H}", band("fastest_m_s", kmh))),
        ("launch airspeed", format!("{} {M_S}", f("launch_speed_m_s", one))),
        ("launch run, still air", format!("{} {M_S}", f("ground_speed_m_s", one))),
        ("launch run in the wind asked", format!("{} {M_S}", f("ground_speed_in_wind_m_s", one))),
        (
            "in the hands at rest, running",
            format!("{} N, {} N", f("hands_n", Show::digits(0)), f("hands_running_n", Show::digits(0))),
        ),
        ("profile drag of the wing", format!("CD {}", f("cd_profile", Show::digits(4)))),
        ("drag of pilot and rigging", format!("CD {}", band("cd_pilot", Show::digits(4)))),
        ("laminar share of the surface", format!("{} %", f("laminar_share", Show::digits(0).times(100.0)))),
        ("manoeuvre speed", format!("{} {KM_H}", a.num("/loads/manoeuvre_speed_m_s", kmh))),
        ("rough-air speed", format!("{} {KM_H}", a.num("/loads/rough_air_speed_m_s", kmh))),
    ];
    let all: Vec<(String, String)> = all.into_iter().map(|(what, is)| (what.to_owned(), is)).collect();
    out + &facts(&all)
}

fn line(a: &Doc, name: &str, list: &str, (x, xt): (&str, f64), (y, yt): (&str, f64)) -> Line {
    let path = |field: &str, times: f64| Path { at: format!("/flight/{list}/*/{field}"), times };
    Line::of(a, name.to_owned(), Look::Named, (path(x, xt), path(y, yt)))
}

fn sink(s: &Sheet, a: &Doc) -> String {
    let of = |name: &str, list: &str| line(a, name, list, ("speed_m_s", KMH), ("sink_m_s", 1.0));
    let best = |key: &str| a.get(&format!("/flight/{key}")).unwrap_or(0.0);
    Plot {
        id: s.id("sink"),
        title: "Sink against speed".to_owned(),
        description: format!(
            "Sink in metres a second, downward, against airspeed in kilometres an hour: least {:.2} m/s at {:.0} km/h, best glide {:.1} at {:.0} km/h; with a line for the low and \
             one for the high drag.",
            best("least_sink_m_s/likely"),
            KMH * best("least_sink_speed_m_s"),
            best("best_glide/likely"),
            KMH * best("best_glide_speed_m_s")
        ),
        x: "airspeed, km/h",
        y: "sink, m/s, downward",
        lines: vec![of("likely", "polar"), of("low drag", "polar_low"), of("high drag", "polar_high")],
        zero: true,
        down: true,
        ends: None,
    }
    .html()
}

fn polar(s: &Sheet, a: &Doc) -> String {
    let of = |name: &str, list: &str| line(a, name, list, ("cd", 1.0), ("cl", 1.0));
    Plot {
        id: s.id("polar"),
        title: "Drag polar of the whole aircraft".to_owned(),
        description: "Lift coefficient against drag coefficient from the slowest to the fastest speed; with a line for the low and one for the high drag.".to_owned(),
        x: "drag coefficient CD",
        y: "lift coefficient CL",
        lines: vec![of("likely", "polar"), of("low drag", "polar_low"), of("high drag", "polar_high")],
        zero: true,
        down: false,
        ends: None,
    }
    .html()
}
