//! What stands between two ribs: hands and bars under a wing on the ground.

use super::by_hand::plank;
use super::handling::near;
use thistledown::physics::assumptions::Assumptions;
use thistledown::physics::evaluation::evaluate;
use thistledown::physics::loads::case::Support;
use thistledown::physics::strength::Context;

#[test]
fn over_a_support_the_moment_is_greatest_whether_a_rib_stands_there_or_not() {
    // Statics, computed independently: outboard of the last support hang bays of even mass and lumps, n g at budget weight; over the
    // support they bend the spar by their mass times its arm, and beside it they shear it by their weight.
    let mut d = plank();
    for bays in [16, 5] {
        d.ribs[0].bays = bays;
        let e = evaluate(&d, &Assumptions::default());
        let context = Context::new(&d, (&e.layout, &e.skins, &e.loads), (&e.sizing, &e.sections, &e.bending));
        let heavy = e.weight.budget_kg / e.weight.drawn_kg * 9.80665;
        let mut seen = 0;
        for (which, l) in e.loads.loads.iter().enumerate() {
            let c = &e.loads.cases[l.case];
            // Bars hold the rest at the inner one too; without air, for light and heavy ends alike.
            let y = match c.support {
                Support::Outboard(y) => y,
                Support::Bars(_, y) if c.speed_m_s == 0.0 => y,
                _ => continue,
            };
            let running = e.layout.bays.iter().zip(&e.weight.running_kg_m);
            let beyond = running.map(|(b, m)| {
                let (from, to) = (b.inner.y_m.max(y), b.outer.y_m.max(y));
                (m * (to - from), m * 0.5 * ((to - y).powi(2) - (from - y).powi(2)))
            });
            let lumps = e.weight.lumps.iter().filter(|x| x.0 > y).map(|(at, kg)| (*kg, kg * (at - y)));
            let (kg, kg_m) = beyond.chain(lumps).fold((0.0, 0.0), |s, x| (s.0 + x.0, s.1 + x.1));
            let (shear, moment) = (-c.n * heavy * kg, -c.n * heavy * kg_m);
            let bay = e.layout.bays.iter().position(|b| b.inner.y_m < y && y <= b.outer.y_m).unwrap();
            let p = l.peaks.iter().find(|p| p.bay == bay).unwrap();
            // A lump within the bay is spread over it: the aileron's fittings at 0.75 of the half span, the linkage at 2.5 m.
            let b = &e.layout.bays[bay];
            let lumped = e.weight.lumps.iter().any(|x| x.0 > b.inner.y_m && x.0 < b.outer.y_m);
            near(p.moment_nm, moment, if lumped { 0.05 } else { 1e-9 });
            assert!(p.shear_n.abs() >= shear.abs() * (1.0 - 1e-9) || lumped, "{}: {} {shear}", c.key, p.shear_n);
            // No edge sees more, and every mode of that bay does.
            let edges = [l.moment_nm()[bay], l.moment_nm()[bay + 1]];
            assert!(edges.iter().all(|m| m.abs() < moment.abs() * (1.0 + 1e-9)), "{}: {edges:?} {moment}", c.key);
            near(context.here(bay).moment_nm[which], p.moment_nm, 1e-12);
            seen += 1;
        }
        assert!(seen >= 3, "{seen}");
    }
}
