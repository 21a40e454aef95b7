//! From the log to what it taught: weighings first, then presses, each against what was predicted.

use std::sync::Arc;

use crate::physics::assumptions::{Assumed, Assumptions, LIST};
use crate::physics::design::Service;
use crate::physics::durability::contact;
use crate::physics::durability::resistance;
use crate::physics::durability::spread;
use crate::physics::laminate::construction::{self, Construction, Kind, Skin};
use crate::physics::material::Library;
use crate::physics::samples::learnt::{Against, Learnt, OF_MASS, OfSkin, Own, Shift};
use crate::physics::samples::record::{FORMS, Form, Press, Reached, Sample, Weighed, same_stack};
use crate::physics::samples::rule::{Belief, Group, Lesson, Prior};

/// Standard deviation of ln areal mass from construction to construction beyond the four shared factors, and from piece to
/// piece of one. Assumptions.
pub const OWN_MASS: f64 = 0.03;
pub const PIECE_MASS: f64 = 0.03;

/// A load this near the prediction counts as met.
const NEAR: f64 = 0.30;

/// Everything the log teaches of the materials of a library that knows of no sample yet.
pub fn fit(samples: &[Sample], lib: &Library, service: &Service) -> Learnt {
    let mut out = Learnt::default();
    for s in samples {
        if !out.own.iter().any(|o| same_stack(&o.made, &s.made)) {
            let nothing = Arc::new(OfSkin::default());
            let skin = construction::nominal(&s.made, lib, &Assumptions::default());
            out.own.push(Own {
                made: s.made.clone(),
                before: spread::of(&skin, &s.made, lib),
                groups: [Group::default(); FORMS],
                of_skin: nothing,
                mass: 0.0,
                pieces: 0,
            });
        }
    }
    weighings(&mut out, samples, lib);
    // A face that weighs more is a thicker face: loads are predicted with what the scale taught.
    let mut weighed = lib.clone();
    weighed.learnt = Learnt { own: out.own.clone(), ..out.clone() };
    for (i, s) in samples.iter().enumerate() {
        for p in &s.presses {
            if let Some(mut a) = pressed(s, p, &weighed, service) {
                let form = form_of(s.made.kind, p);
                let ratios: Vec<f64> = p.loads_n.iter().map(|n| n / a.predicted).collect();
                let g = Group::of(&ratios);
                a.sample = i;
                if let Some(o) = out.own.iter_mut().find(|o| same_stack(&o.made, &s.made)) {
                    o.groups[form as usize] = o.groups[form as usize].with(g);
                }
                out.against.push(a);
            }
        }
    }
    know(&mut out);
    out
}

/// The form that a press tells of.
/// Unchecked: no outside check runs it by itself.
pub fn form_of(kind: Kind, p: &Press) -> Form {
    match (Form::of(kind, p.tool.contact(p.radius_m)), p.reached) {
        (Form::Pad | Form::Ball, Reached::Hole) => Form::Plug,
        (f, _) => f,
    }
}

/// Spread what the groups taught over constructions and forms.
fn know(out: &mut Learnt) {
    let mut others = [None; FORMS];
    let mut each: Vec<OfSkin> = out.own.iter().map(|o| OfSkin { weighed: o.pieces > 0, ..OfSkin::default() }).collect();
    for form in Form::ALL {
        let f = form as usize;
        let groups: Vec<(Group, Prior)> =
            out.own.iter().map(|o| (o.groups[f], Prior::of(form, &o.before[f]))).collect();
        if groups.iter().all(|(g, _)| g.specimens <= 0.0) {
            continue;
        }
        let lesson = Lesson::of(&groups, spread::shared(form));
        for (i, o) in each.iter_mut().enumerate() {
            o.forms[f] = lesson.own(i);
        }
        others[f] = Some(lesson.about_others);
    }
    for (o, k) in out.own.iter_mut().zip(each) {
        o.of_skin = Arc::new(k);
    }
    out.others = Some(others);
}

/// Without its finish and fairing, unless the piece had them.
fn as_weighed(c: &Construction, w: &Weighed, lib: &Library) -> (Construction, Option<Library>) {
    if w.finished {
        return (c.clone(), None);
    }
    let mut bare = lib.clone();
    bare.tools.iter_mut().for_each(|t| t.fairing_kg_m2 = 0.0);
    (Construction { finish: None, ..c.clone() }, Some(bare))
}

/// Areal mass, kg/m2, and how it answers to the logarithm of each factor of [`OF_MASS`], by central difference.
pub fn sensitivity(c: &Construction, lib: &Library) -> (f64, [f64; 4]) {
    const STEP: f64 = 0.01;
    let areal = |a: &Assumptions| construction::nominal(c, lib, a).mass.total();
    let by = OF_MASS.map(|which| {
        let with = |ln: f64| {
            let mut a = Assumptions::default();
            a.factor[which as usize] = f64::exp(ln);
            areal(&a)
        };
        (with(STEP) - with(-STEP)) / (2.0 * STEP)
    });
    (areal(&Assumptions::default()), by)
}

/// Standard deviations of the four shared factors before samples.
/// Unchecked: no outside check runs it by itself.
pub fn before(which: Assumed) -> f64 {
    LIST[which as usize].beta
}

fn weighings(out: &mut Learnt, samples: &[Sample], lib: &Library) {
    if !samples.iter().any(|s| s.weighed.is_some()) {
        return;
    }
    let mut sd: Vec<f64> = OF_MASS.iter().map(|w| before(*w)).collect();
    sd.extend(out.own.iter().map(|_| OWN_MASS));
    let mut belief = Belief::about_zero(&sd);
    for (i, s) in samples.iter().enumerate() {
        let Some(w) = s.weighed else { continue };
        let Some(which) = out.own.iter().position(|o| same_stack(&o.made, &s.made)) else { continue };
        let (c, bare) = as_weighed(&s.made, &w, lib);
        let (predicted, by) = sensitivity(&c, bare.as_ref().unwrap_or(lib));
        if predicted <= 0.0 {
            continue;
        }
        let mut weight = vec![0.0; sd.len()];
        weight[..4].copy_from_slice(&by);
        weight[4 + which] = predicted;
        let measured = w.areal_kg_m2();
        let noise = (PIECE_MASS * predicted).powi(2) / f64::from(w.pieces.max(1));
        belief.learn(&weight, measured - predicted, noise);
        out.own[which].pieces += w.pieces;
        out.against.push(Against {
            sample: i,
            form: None,
            what: format!("weighed, {} of {:.0} cm2", w.pieces, w.area_m2 * 1e4),
            predicted,
            measured,
            specimens: w.pieces,
            sd: None,
            fitted: true,
            within: 0,
            dent: false,
        });
    }
    for (i, which) in OF_MASS.iter().enumerate() {
        let kept = (belief.covariance[i][i].max(0.0)).sqrt() / before(*which);
        out.mass[i] = Shift { mean: belief.mean[i], kept };
    }
    out.covariance = belief.covariance;
    // The rule is linear, resin against its fraction is not: the construction's own share takes up the difference, so that a
    // sampled construction weighs what the rule says.
    let factors = out.assumptions(&Assumptions::default());
    for (i, o) in out.own.iter_mut().enumerate().filter(|(_, o)| o.pieces > 0) {
        let (areal, by) = sensitivity(&o.made, lib);
        let learnt = areal * (1.0 + belief.mean[4 + i]) + dot(&by, &belief.mean);
        let shared = construction::nominal(&o.made, lib, &factors).mass.total();
        o.mass = (learnt / shared.max(1e-9)).max(1e-3).ln();
    }
}

fn dot(by: &[f64; 4], mean: &[f64]) -> f64 {
    by.iter().zip(mean).map(|(b, m)| b * m).sum()
}

fn pressed(s: &Sample, p: &Press, lib: &Library, service: &Service) -> Option<Against> {
    let a = Assumptions::default();
    let skin = construction::properties(&s.made, lib, &a);
    let c = p.tool.contact(p.radius_m);
    let stand = resistance::stand(&skin, lib, c, service.share_at(p.at_c), &a);
    let predicted = stand.load[p.reached.state()];
    if !(predicted.is_finite() && predicted > 0.0) || p.loads_n.is_empty() {
        return None;
    }
    let g = Group::of(&p.loads_n);
    let near = p.loads_n.iter().filter(|n| (predicted / **n - 1.0).abs() <= NEAR).count();
    let on_foam = matches!(skin.kind, Kind::Sandwich | Kind::OneFaced);
    Some(Against {
        sample: 0,
        form: Some(form_of(skin.kind, p)),
        what: format!("{} of {:.1} mm to a {}", p.tool.key(), p.radius_m * 1e3, p.reached.key()),
        predicted,
        measured: g.mean.exp(),
        specimens: p.loads_n.len() as u32,
        sd: g.sd(),
        fitted: stand.fitted && inside(&skin, lib, p, service),
        within: near as u32,
        dent: on_foam && p.reached == Reached::Mark,
    })
}

/// Inside the contact sizes the dent forms were fitted for.
fn inside(skin: &Skin, lib: &Library, p: &Press, service: &Service) -> bool {
    if skin.foam.is_none() {
        return true;
    }
    let face = resistance::face_on_foam(skin, lib, service.share_at(p.at_c), &Assumptions::default());
    face.is_none_or(|f| match p.tool {
        crate::physics::samples::record::Tool::Ball => contact::ball_fitted(&f, p.radius_m),
        _ => contact::pad_fitted(&f, p.radius_m),
    })
}

/// Put what was learnt of masses on a skin worked out with the learnt assumptions: its own excess, and how much of the spread
/// of its areal mass is left.
pub fn put_on(skin: &mut Skin, c: &Construction, lib: &Library) {
    let learnt = &lib.learnt;
    skin.learnt = learnt.of_skin(c, &skin.spread);
    if !learnt.weighed() || skin.kind == Kind::Open {
        return;
    }
    let own = learnt.own_of(c);
    let (areal, by) = sensitivity(c, lib);
    if let Some((_, o)) = own {
        let more = skin.mass.total() * o.mass.exp_m1();
        let m = &mut skin.mass;
        let line = match skin.kind {
            Kind::Covering => &mut m.covering,
            Kind::Wood => &mut m.wood,
            _ => &mut m.resin,
        };
        *line += more;
    }
    let n = learnt.covariance.len();
    let mut weight = vec![0.0; n];
    weight[..4].copy_from_slice(&by);
    let mut apart = (OWN_MASS * areal).powi(2);
    let before_var = OF_MASS.iter().zip(&by).map(|(w, g)| (before(*w) * g).powi(2)).sum::<f64>() + apart;
    if let Some((i, _)) = own {
        weight[4 + i] = areal;
        apart = 0.0;
    }
    let after = Belief { mean: vec![0.0; n], covariance: learnt.covariance.clone() }.of(&weight).1 + apart;
    if before_var > 0.0 {
        skin.mass_sd_kg_m2 *= (after / before_var).sqrt().min(1.0);
    }
}
