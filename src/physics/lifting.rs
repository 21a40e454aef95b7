//! Lifting a piece by hand, for information: what a person is advised to lift with both hands, and how a piece stands to it.

/// One lift with both hands: reach of the hands ahead of the ankles, their height before and after, turn of the body, grip.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Lift {
    pub reach_m: f64,
    pub from_m: f64,
    pub to_m: f64,
    pub turned_rad: f64,
    pub grip: Grip,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Grip {
    /// Handles.
    Good,
    /// Fingers bent under it; as good as handles from 0.75 m up.
    Fair,
    /// Bulky, slippery or without an edge.
    Poor,
}

/// From the floor to the roof of a car, an arm's breadth ahead, without handles: how a half of a wing goes up.
/// **Source:** assumption; a worse place than any on the way.
pub const TO_THE_ROOF: Lift = Lift { reach_m: 0.30, from_m: 0.0, to_m: 1.5, turned_rad: 0.0, grip: Grip::Poor };

/// Advised mass of a lift made now and then, kg; nothing beyond the range.
///
/// `23 kg (0.25/H) (1 - 0.3 |V - 0.75|) (0.82 + 0.045/D) (1 - 0.0032 A) CM`: H reach, V height at the start, D way up, m; A
/// turn of the body, degrees; no factor above 1. CM 1, 0.95, 0.90 by grip, fair 1 from 0.75 m up.
/// **Source:** Waters and others, revised lifting equation, NIOSH 94-110, 1994. **Valid for:** one person standing, firm
/// floor, five lifts an hour at most, no wind; H to 0.63 m, V and D to 1.75 m, A to 135 degrees. Made for boxes at work: a wing
/// in the wind, on a shoulder or carried by two is outside it.
pub fn advised_kg(l: &Lift) -> Option<f64> {
    let (way_m, turned) = ((l.to_m - l.from_m).abs(), l.turned_rad.abs().to_degrees());
    let within = |v: f64, most: f64| (0.0..=most).contains(&v);
    if !(within(l.reach_m, 0.63) && within(l.from_m, 1.75) && within(way_m, 1.75) && within(turned, 135.0)) {
        return None;
    }
    let reach = (0.25 / l.reach_m.max(0.25)).min(1.0);
    let height = 1.0 - 0.3 * (l.from_m - 0.75).abs();
    let way = 0.82 + 0.045 / way_m.max(0.25);
    let grip = match l.grip {
        Grip::Good => 1.0,
        Grip::Fair if l.from_m >= 0.75 => 1.0,
        Grip::Fair => 0.95,
        Grip::Poor => 0.90,
    };
    Some(23.0 * reach * height * way * (1.0 - 0.003_2 * turned) * grip)
}

/// A mass over what is advised: above 1 some are at risk, above 3 most.
///
/// **Source:** NIOSH 94-110. **Valid for:** as [`advised_kg`].
pub fn lifting_index(mass_kg: f64, l: &Lift) -> Option<f64> {
    advised_kg(l).map(|most| mass_kg / most)
}
