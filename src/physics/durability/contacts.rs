//! What a contact meets, apart from the weight of the wing, and what of it is kept from one evaluation to the next.

use std::sync::Arc;

use crate::physics::assumptions::{Assumed, Assumptions};
use crate::physics::design::Design;
use crate::physics::durability::cause::{Cause, Met};
use crate::physics::durability::events::{Contact, EVENTS, Event};
use crate::physics::durability::field::{self, Codes, Comes, Exposed, Falls, SPOTS};
use crate::physics::durability::panel::{self, PanelHere};
use crate::physics::durability::resistance::{self, Answer, MARK_M, OnFoam, Spot, Stand};
use crate::physics::durability::spread::Scatter;
use crate::physics::durability::term::{BETA_CONTACT, EDGE_RADIUS_M, Term};
use crate::physics::durability::toll::{self, Contacts, Costs, OnZone, Priced, ZoneMet};
use crate::physics::kept::{Inputs, Named, Names, Row, Stamped, To};
use crate::physics::laminate::construction::{Kind, Skin};
use crate::physics::material::Library;
use crate::physics::samples::record::Form;

/// What rating leaves behind: nothing of it hangs on the weight of the wing.
#[derive(Debug, Default)]
pub(crate) struct Memory {
    names: Names,
    faces: Row<Arc<Faced>, 3>,
    falls: Row<Falls, 12>,
    contacts: Row<Arc<Contacts>, 12>,
    zones: Row<Arc<OnZone>, 3>,
}

impl Memory {
    /// One that keeps nothing, for an evaluation that nothing comes after.
    pub(crate) fn forgetting() -> Self {
        Self {
            names: Names::forgetting(),
            faces: Row::forgetting(),
            falls: Row::forgetting(),
            contacts: Row::forgetting(),
            zones: Row::forgetting(),
        }
    }

    /// A new evaluation begins.
    pub(super) fn begin(&mut self) {
        let Self { names, faces, falls, contacts, zones } = self;
        names.begin();
        faces.begin();
        falls.begin();
        contacts.begin();
        zones.begin();
    }

    /// What damage costs.
    pub(super) fn costs<'a>(&mut self, costs: &'a Costs) -> Named<&'a Costs> {
        self.names.of(costs)
    }

    /// What all contacts have in common.
    pub(super) fn common<'a>(&mut self, of: Common<'a>) -> Named<Common<'a>> {
        self.names.of(of)
    }

    /// A skin on one side of the wing; only foam feels which.
    pub(super) fn side<'a>(&mut self, skin: &'a Skin, upper: bool, common: Named<Common<'a>>) -> Side<'a> {
        let bare = Bare { skin: self.names.of(skin), upper: upper && skin.foam.is_some(), common };
        Side { bare, faced: self.faces.of(&bare, faced) }
    }

    /// What any skin stands on one side of the wing.
    pub(super) fn faced(&mut self, skin: &Skin, upper: bool, common: Named<Common>) -> Arc<Faced> {
        let bare = Bare { skin: self.names.of(skin), upper: upper && skin.foam.is_some(), common };
        self.faces.of(&bare, faced)
    }

    /// The same, what hangs on nothing else known already.
    pub(super) fn known_side<'a>(
        &mut self,
        skin: &'a Skin,
        upper: bool,
        common: Named<Common<'a>>,
        faced: &Arc<Faced>,
    ) -> Side<'a> {
        let bare = Bare { skin: self.names.of(skin), upper: upper && skin.foam.is_some(), common };
        Side { bare, faced: Arc::clone(faced) }
    }

    /// How often each contact is met on each zone of a field, when each event comes so.
    pub(super) fn falls(&mut self, zones: &[Exposed], per: &[Comes]) -> Vec<Stamped<Falls>> {
        let per = self.names.of(per);
        zones.iter().map(|z| self.falls.known(&z.beneath(per), field::falls)).collect()
    }

    /// What the contacts of a class come to, as far as they hang on no weight; None where nothing comes after.
    pub(super) fn contacts(&mut self, priced: &Priced) -> Option<Stamped<Arc<Contacts>>> {
        (!self.contacts.forgets()).then(|| self.contacts.known(priced, toll::contacts))
    }

    /// What stays on a zone whatever the wing weighs; None where nothing comes after, so that it would be put together to be
    /// looked at once.
    pub(super) fn on_zone(&mut self, met: &ZoneMet) -> Option<Arc<OnZone>> {
        (!self.zones.forgets()).then(|| self.zones.of(met, toll::on_zone))
    }
}

/// What is the same for every contact of an evaluation: materials, assumptions, events, share of core strength left in the
/// sun on the lower and on the upper side.
#[derive(Debug, Clone, Copy)]
pub(super) struct Common<'a> {
    library: &'a Arc<Library>,
    pub(super) assumed: &'a Assumptions,
    events: &'a [Event; EVENTS.len()],
    heat: [f64; 2],
}

impl<'a> Common<'a> {
    pub(super) fn of(design: &'a Design, assumed: &'a Assumptions) -> Self {
        let Design { library, care, service, .. } = design;
        let heat = [false, true].map(|upper| service.core_share(upper));
        Self { library, assumed, events: &care.catalogue.events, heat }
    }

    /// The face on foam of a skin without a name.
    pub(super) fn on_foam(&self, skin: &Skin, upper: bool) -> Option<OnFoam> {
        OnFoam::of(skin, self.library, self.heat[usize::from(upper)], self.assumed)
    }

    /// A skin without a name on one side of the wing.
    pub(super) fn faced(&self, skin: &Skin, upper: bool) -> Faced {
        let foam = self.on_foam(skin, upper);
        let scatters = Form::ALL.map(|form| Scatter::of(skin, form));
        let stand = |e: &Event| {
            let stand = resistance::stand_on(skin, self.library, e.contact, foam.as_ref(), self.assumed);
            (stand, scatters[Form::of(skin.kind, e.contact) as usize])
        };
        Faced { stands: self.events.iter().map(stand).collect(), foam }
    }
}

impl Inputs for Common<'_> {
    fn put<T: To>(&self, to: &mut T) {
        let Self { library, assumed, events, heat } = self;
        library.put(to);
        assumed.put(to);
        events.put(to);
        heat.put(to);
    }
}

#[derive(Debug, Clone, Copy)]
struct Bare<'a> {
    skin: Named<&'a Skin>,
    upper: bool,
    common: Named<Common<'a>>,
}

impl Inputs for Bare<'_> {
    fn put<T: To>(&self, to: &mut T) {
        let Self { skin, upper, common } = self;
        skin.put(to);
        upper.put(to);
        common.put(to);
    }
}

/// A skin on one side of the wing: its face on foam, and what it stands under each event of the catalogue with its scatter.
#[derive(Debug)]
pub(super) struct Faced {
    foam: Option<OnFoam>,
    stands: Vec<(Stand, Scatter)>,
}

impl Faced {
    /// The face on foam.
    pub(super) const fn foam(&self) -> Option<&OnFoam> {
        self.foam.as_ref()
    }

    /// What it stands under an event of the catalogue, and how that scatters.
    pub(super) fn stand(&self, event: usize) -> &(Stand, Scatter) {
        &self.stands[event]
    }
}

fn faced(bare: &Bare) -> Arc<Faced> {
    let Bare { skin, upper, common } = bare;
    Arc::new(common.faced(skin, *upper))
}

/// A skin on one side of the wing with what hangs on nothing else: its key is that of the bare side.
#[derive(Debug, Clone)]
pub(super) struct Side<'a> {
    bare: Bare<'a>,
    faced: Arc<Faced>,
}

impl Side<'_> {
    /// The face on foam.
    pub(super) fn foam(&self) -> Option<&OnFoam> {
        self.faced.foam()
    }

    /// What it stands under an event of the catalogue, and how that scatters.
    pub(super) fn stand(&self, event: usize) -> &(Stand, Scatter) {
        self.faced.stand(event)
    }
}

impl Inputs for Side<'_> {
    fn put<T: To>(&self, to: &mut T) {
        let Self { bare, faced: _ } = self;
        bare.put(to);
    }
}

/// Zones on which contacts go alike, and the contacts that are met there.
pub(super) struct Class<'a> {
    pub(super) side: &'a Side<'a>,
    pub(super) panel: PanelHere,
    /// Radius of the skin under a strap, m, but for its edge.
    pub(super) radius_m: f64,
    pub(super) codes: Codes,
}

impl Inputs for Class<'_> {
    fn put<T: To>(&self, to: &mut T) {
        let Self { side, panel, radius_m, codes } = self;
        side.put(to);
        let PanelHere { width_m, length_m, arc_m, radius_m: curve_m } = panel;
        [width_m, length_m, arc_m, curve_m, radius_m].put(to);
        codes.put(to);
    }
}

impl Class<'_> {
    /// The assumptions its contacts rest on.
    pub(super) fn assumed(&self) -> &Assumptions {
        self.side.bare.common.assumed
    }

    /// The events its contacts come of.
    pub(super) fn events(&self) -> &[Event; EVENTS.len()] {
        self.side.bare.common.events
    }

    /// Those of its contacts that are among some, the first first.
    pub(super) fn resists(&self, among: Codes) -> impl Iterator<Item = Resists> {
        let Bare { skin, common, .. } = &self.side.bare;
        let with = (&**common.library, common.assumed);
        field::each(self.codes & among).map(move |code| {
            let (event, spot) = (code / SPOTS, Spot::ALL[code % SPOTS]);
            let radius_m = if spot == Spot::Edge { EDGE_RADIUS_M } else { self.radius_m };
            Resists::of(
                (code, &common.events[event]),
                (skin, self.side.stand(event)),
                (spot, &self.panel),
                radius_m,
                with,
            )
        })
    }
}

/// What a place of a zone resists under an event, and what the cause meets there.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Resists {
    /// Event and spot.
    pub(super) code: usize,
    kind: Kind,
    spot: Spot,
    stands: [f64; 3],
    /// Spread of each of the three, how each answers to its form, and the share of the spread that samples left.
    spread: [f64; 3],
    answers: [Answer; 3],
    foam: f64,
    kept: f64,
    tears: f64,
    pub(super) stiffness_n_m: f64,
    radius_m: f64,
}

impl Resists {
    /// Of a skin that stands so much, at a spot of a panel.
    pub(super) fn of(
        (code, e): (usize, &Event),
        (skin, (stand, scatter)): (&Skin, &(Stand, Scatter)),
        (spot, panel): (Spot, &PanelHere),
        radius_m: f64,
        (library, assumed): (&Library, &Assumptions),
    ) -> Self {
        let springs = matches!(e.cause, Cause::SetDown { .. });
        let (stands, answers) = resistance::met(skin, library, e.contact, stand, (spot, panel), assumed);
        Self {
            code,
            kind: skin.kind,
            spot,
            stands,
            spread: scatter.of_states(&answers),
            answers,
            foam: scatter.foam,
            kept: scatter.kept,
            tears: stand.tears,
            stiffness_n_m: if springs { stiffness(skin, stand, spot, panel) } else { 0.0 },
            radius_m,
        }
    }

    /// The event on it, in a zone of a wing of this weight; how often is for the caller to say.
    pub(super) fn term(&self, (e, zone): (&Event, usize), half_wing_kg: f64, assumed: &Assumptions) -> Term {
        let soft = matches!(e.contact, Contact::Pad { .. } | Contact::Pressure { .. });
        let scatter = if soft { BETA_CONTACT } else { 0.0 };
        let met = Met { half_wing_kg, stiffness_n_m: self.stiffness_n_m, radius_m: self.radius_m };
        Term {
            event: self.code / SPOTS,
            zone,
            kind: self.kind,
            spot: self.spot,
            per_100: 0.0,
            severity: e.cause.severity(&met) * assumed.of(Assumed::Severity),
            beta_severity: (e.beta * e.beta + scatter * scatter).sqrt(),
            stands: self.stands,
            beta_resistance: self.spread,
            answers: self.answers,
            foam: self.foam,
            kept: self.kept,
            tears: self.tears,
        }
    }
}

/// Stiffness of contact and zone together, N/m, as a thing set down on it feels it.
fn stiffness(s: &Skin, stand: &Stand, spot: Spot, at: &PanelHere) -> f64 {
    if s.kind == Kind::Covering {
        // A taut cloth gives some centimetres to its piercing load. An allowance.
        return stand.load[2] / 0.03;
    }
    let contact = stand.load[0] / MARK_M;
    if spot.over_a_rib() {
        return contact;
    }
    let d = s.d.s11.min(s.d.s22).max(1e-6);
    let give = panel::give_n_m(d, s.s_n_m, (s.a.s11 * s.a.s22).max(1.0).sqrt(), at, 0.01);
    1.0 / (1.0 / contact.max(1.0) + 1.0 / give.max(1.0))
}
