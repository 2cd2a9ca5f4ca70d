//! How a run of levels closes, the published limits, and the sharing out of what is left.

use super::{SetUp, Sight, SurveyError, within};
use tober_quantity::Length;

/// A published limit for the misclosure of a run, chosen by name.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum ClosureLimit {
    /// 3 mm √K.
    FirstOrderClassI,
    /// 4 mm √K.
    FirstOrderClassII,
    /// 6 mm √K.
    SecondOrderClassI,
    /// 8 mm √K. (An army course's 8.4 is a foot rule turned metric, reference DIS-21.)
    SecondOrderClassII,
    /// 12 mm √K.
    ThirdOrder,
    /// 0.05 ft √M.
    ThirdOrderFeet,
    /// 0.035 ft √M.
    SecondOrderFeet,
    /// 10 mm √K.
    RoadDesign,
    /// 24 mm √K.
    OrdinarySiteWork,
    /// 5 mm √n. Its only source is a garbled copy of lecture notes: shown, and gates nothing.
    EachSetUp,
}

/// What a limit is multiplied with.
enum Grows {
    /// With the root of the distance in kilometres.
    Kilometres(f64),
    /// With the root of the distance in miles; the factor in metres.
    Miles(f64),
    /// With the root of the number of set-ups.
    SetUps(f64),
}

impl ClosureLimit {
    /// Every limit that can be chosen.
    pub const ALL: [Self; 10] = [
        Self::FirstOrderClassI,
        Self::FirstOrderClassII,
        Self::SecondOrderClassI,
        Self::SecondOrderClassII,
        Self::ThirdOrder,
        Self::ThirdOrderFeet,
        Self::SecondOrderFeet,
        Self::RoadDesign,
        Self::OrdinarySiteWork,
        Self::EachSetUp,
    ];

    /// The name it is chosen by.
    pub fn name(self) -> &'static str {
        match self {
            Self::FirstOrderClassI => "first order class I",
            Self::FirstOrderClassII => "first order class II",
            Self::SecondOrderClassI => "second order class I",
            Self::SecondOrderClassII => "second order class II",
            Self::ThirdOrder => "third order",
            Self::ThirdOrderFeet => "third order, feet",
            Self::SecondOrderFeet => "second order, feet",
            Self::RoadDesign => "road design",
            Self::OrdinarySiteWork => "ordinary site work",
            Self::EachSetUp => "each set-up",
        }
    }

    /// The limit of a name, if there is one.
    pub fn named(name: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|limit| limit.name() == name)
    }

    /// Where the limit is published.
    pub fn basis(self) -> &'static str {
        match self {
            Self::FirstOrderClassI => "US federal geodetic control standards, first order class I, 3 mm √km",
            Self::FirstOrderClassII => {
                "US federal geodetic control standards, first order class II, 4 mm √km"
            }
            Self::SecondOrderClassI => {
                "US federal geodetic control standards, second order class I, 6 mm √km"
            }
            Self::SecondOrderClassII => {
                "US federal geodetic control standards, second order class II, 8 mm √km"
            }
            Self::ThirdOrder => "US federal geodetic control standards, third order, 12 mm √km",
            Self::ThirdOrderFeet => {
                "US Navy Engineering Aid course, third order, 0.05 ft √mile (from memory)"
            }
            Self::SecondOrderFeet => {
                "US Navy Engineering Aid course, second order, 0.035 ft √mile (from memory)"
            }
            Self::RoadDesign => "Kenya Road Design Manual 2025, RDM 1.1, 10 mm √km",
            Self::OrdinarySiteWork => "ordinary site work, 24 mm √km (common textbook list, from memory)",
            Self::EachSetUp => "university notes, 5 mm √set-ups (a garbled copy: a guide only)",
        }
    }

    /// Whether a run may be refused by it: not where its source is too weak.
    pub fn gates(self) -> bool {
        self != Self::EachSetUp
    }

    fn grows(self) -> Grows {
        match self {
            Self::FirstOrderClassI => Grows::Kilometres(3e-3),
            Self::FirstOrderClassII => Grows::Kilometres(4e-3),
            Self::SecondOrderClassI => Grows::Kilometres(6e-3),
            Self::SecondOrderClassII => Grows::Kilometres(8e-3),
            Self::ThirdOrder => Grows::Kilometres(12e-3),
            Self::RoadDesign => Grows::Kilometres(10e-3),
            Self::OrdinarySiteWork => Grows::Kilometres(24e-3),
            Self::ThirdOrderFeet => Grows::Miles(0.05 * 0.3048),
            Self::SecondOrderFeet => Grows::Miles(0.035 * 0.3048),
            Self::EachSetUp => Grows::SetUps(5e-3),
        }
    }

    /// The greatest misclosure of a run, or `None` where it needs a distance that was not measured.
    ///
    /// c √K with K the length of the run in kilometres or miles, or c √n with n the number of set-ups.
    /// Sources: reference SV-03, SV-05 to SV-08.
    pub fn most(self, distance: Option<Length>, set_ups: usize) -> Option<Length> {
        let root = |metres: f64| (distance.map(|d| d.as_m() / metres)).filter(|k| *k >= 0.0).map(f64::sqrt);
        match self.grows() {
            Grows::Kilometres(c) => root(1e3).map(|k| Length::m(c * k)),
            Grows::Miles(c) => root(1609.344).map(|k| Length::m(c * k)),
            Grows::SetUps(c) => Some(Length::m(c * (set_ups as f64).sqrt())),
        }
    }
}

/// How a run that ends at a known height closed on it.
#[derive(Clone, Debug, PartialEq)]
pub struct Closure {
    /// Where it starts.
    pub from: String,
    /// Where it ends.
    pub to: String,
    /// How many set-ups it took.
    pub set_ups: usize,
    /// The sum of its sights back and forward, where every one was measured.
    pub distance: Option<Length>,
    /// Carried height less known height at its end.
    pub misclosure: Length,
}

/// The run that a booking makes, where it makes one: each set-up has one backsight and one foresight,
/// each starts where the last one ended, the first starts at a known point and the last ends at one.
pub(super) fn run_of(set_ups: &[SetUp], known: impl Fn(&str) -> Option<f64>) -> Option<Closure> {
    let mut carried_m: Option<f64> = None;
    let mut distance_m = Some(0.0);
    let mut at: Option<&str> = None;
    let mut from = "";
    for set_up in set_ups {
        let only = |sight| {
            let mut of_kind = set_up.readings.iter().filter(|r| r.sight == sight);
            of_kind.next().filter(|_| of_kind.next().is_none())
        };
        let (back, fore) = (only(Sight::Back)?, only(Sight::Fore)?);
        if at.is_some_and(|point| point != back.point) {
            return None;
        }
        if at.is_none() {
            from = &back.point;
        }
        let start_m = carried_m.or_else(|| known(&back.point))?;
        carried_m = Some(start_m + back.staff.as_m() - fore.staff.as_m());
        for reading in [back, fore] {
            distance_m = distance_m.and_then(|sum| reading.distance.map(|d| sum + d.as_m()));
        }
        at = Some(&fore.point);
    }
    let to = at?;
    Some(Closure {
        from: from.to_owned(),
        to: to.to_owned(),
        set_ups: set_ups.len(),
        distance: distance_m.map(Length::m),
        misclosure: Length::m(carried_m? - known(to)?),
    })
}

/// What to add to the height of each point of a run so that its end comes right.
///
/// − misclosure × distance from the start / distance of the whole. `along` holds the distance of each
/// point from the start. Source: US Navy Engineering Aid course, reference SV-12. The least-squares
/// heights of [`super::staff()`] do the same and give deviations too; this is for checking a field book by hand.
///
/// # Errors
/// A run of no length, a point outside it, or a number that is not one.
pub fn share_misclosure(
    misclosure: Length,
    whole: Length,
    along: &[Length],
) -> Result<Vec<Length>, SurveyError> {
    let most = Length::m(1e6);
    within(misclosure, -most, most, "misclosure", "the end of the run")?;
    within(whole, Length::mm(1.0), most, "length", "the whole run")?;
    along
        .iter()
        .map(|distance| {
            within(*distance, Length::ZERO, whole, "distance from the start", "a point of the run")?;
            Ok(-misclosure * (*distance / whole))
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// US Navy Engineering Aid course, fig. 7-4 (reference WE-15): a run of 2,140 ft closes 0.015 ft high,
    /// inside third order (0.0318 ft); a point 428 ft out is put down by 0.003 ft, 134.851 to 134.848 ft.
    #[test]
    fn truth_navy_run_of_2140_feet() {
        let whole = Length::feet(2140.0);
        let misclosure = Length::feet(136.457) - Length::feet(136.442);
        let most = ClosureLimit::ThirdOrderFeet.most(Some(whole), 6).expect("needs only the distance");
        assert!((most.as_ft() - 0.0318).abs() < 0.000_05, "{}", most.as_ft());
        assert!(misclosure < most);
        let shared = share_misclosure(misclosure, whole, &[Length::feet(428.0)]).expect("a sound run");
        assert!((shared[0].as_ft() + 0.003).abs() < 1e-9);
        assert!((134.851 + shared[0].as_ft() - 134.848).abs() < 0.000_5);
    }

    /// A public page of levelling problems (reference WE-16), corrections recomputed: a loop of 30.5 km
    /// closes 0.244 m low. It fails third order, 12 √30.5 = 66 mm.
    #[test]
    fn truth_loop_of_30_kilometres_fails_third_order() {
        let misclosure = Length::m(728.486 - 728.730);
        let whole = Length::m(30_500.0);
        let along = [5_245.0, 11_271.0, 17_718.0, 21_964.0, 25_247.0].map(Length::m);
        let observed = [783.213, 891.764, 843.195, 739.708, 702.956];
        let corrections = [0.042, 0.090, 0.142, 0.176, 0.202];
        let adjusted = [783.255, 891.854, 843.337, 739.884, 703.158];
        let shared = share_misclosure(misclosure, whole, &along).expect("a sound run");
        for i in 0..5 {
            assert!((shared[i].as_m() - corrections[i]).abs() < 0.001);
            assert!((observed[i] + shared[i].as_m() - adjusted[i]).abs() < 0.001);
        }
        let most = ClosureLimit::ThirdOrder.most(Some(whole), 1).expect("needs only the distance");
        assert!((most.as_mm() - 66.0).abs() < 0.5 && misclosure.abs() > most);
    }

    /// Reference SV-05: 0.05 ft √mile is 12.01 mm √km and 0.035 ft √mile is 8.41 mm √km.
    #[test]
    fn truth_foot_forms_in_metres() {
        let km = Some(Length::m(1000.0));
        let feet_mm = |limit: ClosureLimit| limit.most(km, 1).expect("needs only the distance").as_mm();
        assert!((feet_mm(ClosureLimit::ThirdOrderFeet) - 12.01).abs() < 0.005);
        assert!((feet_mm(ClosureLimit::SecondOrderFeet) - 8.41).abs() < 0.005);
    }

    #[test]
    fn refuse_a_limit_without_its_distance_and_a_run_without_length() {
        assert_eq!(ClosureLimit::ThirdOrder.most(None, 4), None);
        assert_eq!(ClosureLimit::ThirdOrder.most(Some(Length::m(-5.0)), 4), None);
        assert!(share_misclosure(Length::mm(3.0), Length::ZERO, &[]).is_err());
        let past = share_misclosure(Length::mm(3.0), Length::m(10.0), &[Length::m(11.0)]);
        assert!(matches!(past, Err(SurveyError::OutOfRange { what: "distance from the start", .. })));
    }

    #[test]
    fn law_weak_sources_gate_nothing() {
        for limit in ClosureLimit::ALL {
            assert_eq!(limit.gates(), !limit.basis().contains("garbled"), "{}", limit.basis());
        }
    }
}
