//! What the edges of the skins stand: trailing edge, rib line, boundary joint, each with a resistance of its own.

use crate::physics::durability::events::Contact;
use crate::physics::durability::press::{BALL_M, p5};
use crate::physics::durability::resistance::{self, Spot};
use crate::physics::durability::term::{Ground, panel_of};
use crate::physics::laminate::construction::Kind;
use crate::physics::samples::record::Form;

/// A kind of edge.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Edge {
    Trailing,
    RibLine,
    BoundaryJoint,
}

impl Edge {
    pub const ALL: [Self; 3] = [Self::Trailing, Self::RibLine, Self::BoundaryJoint];
    pub const fn word(self) -> &'static str {
        match self {
            Self::Trailing => "trailing edge",
            Self::RibLine => "rib line",
            Self::BoundaryJoint => "boundary joint",
        }
    }
    const fn spot(self) -> Spot {
        match self {
            Self::Trailing => Spot::Edge,
            Self::RibLine => Spot::Rib,
            Self::BoundaryJoint => Spot::Joint,
        }
    }
}

/// The weakest place of a kind of edge.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct EdgeStand {
    pub edge: Edge,
    /// P5 of the load of a 10 mm hard ball that first needs repair, N, and the zone.
    pub ball_n: f64,
    pub ball_zone: usize,
    /// P5 of the energy of a blow with a 10 mm nose that does, J, and the zone.
    pub blow_j: f64,
    pub blow_zone: usize,
}

/// The weakest trailing edge, rib line and boundary joint of the wing; a kind that the wing has not is left out.
pub fn weakest(g: &Ground) -> Vec<EdgeStand> {
    Edge::ALL.into_iter().filter_map(|e| weakest_of(g, e)).collect()
}

fn weakest_of(g: &Ground, edge: Edge) -> Option<EdgeStand> {
    let mut out: Option<EdgeStand> = None;
    for (i, z) in g.layout.zones.iter().enumerate() {
        let there = match edge {
            Edge::Trailing => z.edge_m > 0.0,
            Edge::RibLine => true,
            Edge::BoundaryJoint => g.joints.get(i).is_some_and(|j| *j > 0.0),
        };
        let Some(s) = g.skins.get(z.construction).filter(|s| there && s.kind != Kind::Open) else { continue };
        let stands = |c: Contact| {
            let foam = g.on_foam(z.construction, z.strip.is_upper());
            let stand = resistance::stand_on(s, &g.design.library, c, foam, g.assumed);
            let at = (edge.spot(), &panel_of(z));
            let first = resistance::here(s, &g.design.library, c, &stand, at, g.assumed);
            p5(first.into_iter().fold(f64::INFINITY, f64::min), s.dispersion(Form::of(s.kind, c)).0)
        };
        let ball_n = stands(Contact::Ball { radius_m: BALL_M });
        let blow_j = stands(Contact::Blow { radius_m: BALL_M, local: false, ice: false });
        let o = out.get_or_insert(EdgeStand { edge, ball_n, ball_zone: i, blow_j, blow_zone: i });
        if ball_n < o.ball_n {
            (o.ball_n, o.ball_zone) = (ball_n, i);
        }
        if blow_j < o.blow_j {
            (o.blow_j, o.blow_zone) = (blow_j, i);
        }
    }
    out
}
