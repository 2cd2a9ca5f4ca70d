//! The findings: bands as they print, what may go light, and working that balances.

use tober_calc::finding::{Finding, Measure, Override, Proof, Standing, Subject};
use tober_calc::supports::{
    Between, Burden, Input, Leg, Place, Role, Seen, Situation, Spot, UncertainSupport, Weight, findings,
    influences,
};
use tober_calc::working::Provenance;
use tober_quantity::{Force, Length, Mass, Moment, Stiffness, UnitSet};

/// Four legs at (±4, ±1.5) of 20 MN/m with gaps of ±`gap_mm`, and 10.2 t in the middle: 100 kN.
fn situation(gap_mm: f64, rated_t: f64) -> Situation {
    let places = [
        ("front left", 4.0, 1.5),
        ("rear left", -4.0, 1.5),
        ("front right", 4.0, -1.5),
        ("rear right", -4.0, -1.5),
    ];
    let leg = |(name, x, y): (&str, f64, f64)| Leg {
        name: name.to_owned(),
        role: Role::Carries,
        rated: Some(Mass::t(rated_t)),
        support: UncertainSupport {
            spot: Spot { x: Length::m(x), y: Length::m(y) },
            stiffness: Between::exact(Stiffness::mn_per_m(20.0)),
            gap: Between { low: Length::mm(-gap_mm), high: Length::mm(gap_mm) },
            seen: None,
        },
        stiffness_from: Provenance::Guessed,
        gap_from: Provenance::measured("tape"),
    };
    let middle = Place::At(Spot { x: Length::ZERO, y: Length::ZERO });
    Situation {
        legs: places.map(leg).to_vec(),
        weights: vec![Weight {
            name: "the trailer".to_owned(),
            burden: Burden { down: Between::exact(Force::kn(100.0)), place: middle },
            from: Provenance::Weighed,
        }],
        moment_x: Between::exact(Moment::ZERO),
        moment_y: Between::exact(Moment::ZERO),
        moments_from: Provenance::Guessed,
        step: Mass::t(0.1),
        bearing: None,
        reading: None,
    }
}

fn of<'a>(list: &'a [Finding], code: &str, leg: &str) -> &'a Finding {
    let subject = Subject::Support(leg.to_owned());
    list.iter().find(|f| f.code == code && f.subject == subject).expect("there is one")
}

fn the<'a>(list: &'a [Finding], code: &str) -> &'a Finding {
    list.iter().find(|f| f.code == code).expect("there is one")
}

#[test]
fn hand_the_band_prints_outward_and_the_share_is_of_what_is_printed() {
    // ±1 mm at 20 MN/m: 5 to 45 kN, which are 0.5099 t and 4.5887 t: printed 0.5 to 4.6 t. Of 5.0 t: 92 %.
    let list = findings(&situation(1.0, 5.0)).expect("good input");
    let load = of(&list, "supports.load", "rear left");
    let Measure::AgainstLimit { low, high, limit, .. } = load.measure else { panic!("{:?}", load.measure) };
    assert!(
        (low.si - 500.0).abs() < 1e-6 && (high.si - 4600.0).abs() < 1e-6 && (limit.si - 5000.0).abs() < 1e-9
    );
    assert_eq!(load.share(), Some(92));
    assert_eq!(load.standing, Standing::Close);
    assert_eq!(load.proof, Some(Proof::Proved));
    assert_eq!(of(&list, "supports.light", "rear left").standing, Standing::Inside);
    assert_eq!(the(&list, "supports.stands").standing, Standing::Inside);
    // 4.5 t is passed although the middle of the band is half of it.
    let list = findings(&situation(1.0, 4.5)).expect("good input");
    assert_eq!(of(&list, "supports.load", "rear left").standing, Standing::PastLimit);
}

#[test]
fn hand_a_leg_that_may_go_light_wants_a_kick() {
    let list = findings(&situation(2.0, 9.0)).expect("good input");
    let light = of(&list, "supports.light", "front right");
    assert_eq!(light.standing, Standing::Close);
    assert!(light.advice[0].starts_with("Kick this foot"));
    assert!(matches!(light.proof, Some(Proof::Refuted { .. })));
    // Kicked and found snug, it is no longer a matter.
    let mut kicked = situation(2.0, 9.0);
    kicked.legs[2].support.seen = Some(Seen::Snug { at_least: Force::kn(1.0) });
    let list = findings(&kicked).expect("good input");
    assert_eq!(of(&list, "supports.light", "front right").standing, Standing::Inside);
    // Found light where it cannot be: stop.
    let mut wrong = situation(1.0, 9.0);
    wrong.legs[2].support.seen = Some(Seen::Light { at_most: Force::kn(1.0) });
    let list = findings(&wrong).expect("good input");
    assert_eq!(list.len(), 1);
    assert_eq!(list[0].standing, Standing::PastLimit);
    assert_eq!(list[0].overriding, Override::Never);
}

#[test]
fn hand_what_is_missing_is_not_known() {
    let mut unrated = situation(1.0, 9.0);
    unrated.legs[0].rated = None;
    let list = findings(&unrated).expect("good input");
    assert_eq!(of(&list, "supports.load", "front left").standing, Standing::NotKnown);
    assert_eq!(of(&list, "supports.load", "rear left").standing, Standing::Inside);
    // Without a centre of gravity each leg may have to carry all: 100 kN is 10.197 t, printed 10.2 t.
    let mut unplaced = situation(1.0, 12.0);
    unplaced.weights[0].burden.place = Place::Unknown;
    let list = findings(&unplaced).expect("good input");
    assert_eq!(the(&list, "supports.stands").standing, Standing::NotKnown);
    let load = of(&list, "supports.load", "rear left");
    assert_eq!(load.share(), Some(85));
    assert!(matches!(load.proof, Some(Proof::Bounded { .. })));
}

#[test]
fn hand_a_frame_that_needs_a_leg_that_only_steadies() {
    // Without the rear right leg the middle of the frame lies on the line between two others.
    let mut steadied = situation(0.5, 9.0);
    steadied.legs[3].role = Role::OnlySteadies;
    steadied.legs[3].rated = None;
    let list = findings(&steadied).expect("good input");
    let without = the(&list, "supports.stands-without-steadies");
    assert_eq!(without.standing, Standing::PastLimit);
    assert_eq!(without.overriding, Override::Never);
    assert_eq!(of(&list, "supports.load-on-steady", "rear right").standing, Standing::NotKnown);
    assert!(
        !list
            .iter()
            .any(|f| f.code == "supports.light" && f.subject == Subject::Support("rear right".to_owned()))
    );
    // With the weight nearer to the other three it stands without it.
    steadied.weights[0].burden.place = Place::At(Spot { x: Length::m(1.0), y: Length::m(0.5) });
    let list = findings(&steadied).expect("good input");
    assert_eq!(the(&list, "supports.stands-without-steadies").standing, Standing::Inside);
}

#[test]
fn law_the_working_ends_in_the_high_figure_and_its_sums_balance() {
    let mut windy = situation(1.5, 9.0);
    windy.moment_x = Between { low: Moment::knm(-12.0), high: Moment::knm(12.0) };
    windy.weights[0].burden.down = Between { low: Force::kn(95.0), high: Force::kn(104.0) };
    let list = findings(&windy).expect("good input");
    for leg in ["front left", "rear left", "front right", "rear right"] {
        let load = of(&list, "supports.load", leg);
        let Measure::AgainstLimit { high, .. } = load.measure else { panic!("{:?}", load.measure) };
        let lines = load.working.print(UnitSet::Metric);
        let line = |symbol: &str| {
            let found =
                lines.iter().find(|l| l.symbols == symbol || l.symbols.starts_with(&format!("{symbol} =")));
            found.unwrap_or_else(|| panic!("a line for {symbol} in {lines:?}"))
        };
        // ΣR = W and both moments, to the six digits that print.
        assert_eq!(line("ΣR").result, line("W").result);
        assert_eq!(line("ΣR").result, "104\u{202f}kN");
        assert_eq!(line("ΣRy").result, line("WY").result);
        assert_eq!(line("R").symbols, "R = k × c");
        // The figure of the finding is this one rounded up to a tenth of a tonne.
        let tonnes: f64 = line("m").result.trim_end_matches("\u{202f}t").parse().expect("a number");
        assert!((high.si / 1e3 - (tonnes * 10.0).ceil() / 10.0).abs() < 1e-9, "{tonnes} {high:?}");
        assert!(lines.iter().any(|l| l.meaning.contains("would take off the high end")));
    }
}

#[test]
fn hand_each_gap_is_worth_a_quarter_of_its_stiffness() {
    // R = P/4 ± (k/4)·Σ d: known to be in the middle, one gap of ±1 mm takes k·d/4 = 5 kN off every leg.
    let situation = situation(1.0, 9.0);
    let supports: Vec<UncertainSupport> = situation.legs.iter().map(|l| l.support).collect();
    let load = tober_calc::supports::UncertainLoad::of(situation.weights.iter().map(|w| w.burden).collect());
    let list = influences(&supports, &load).expect("good input");
    assert_eq!(list.iter().map(|i| i.input).collect::<Vec<_>>(), (0..4).map(Input::Gap).collect::<Vec<_>>());
    for takes_off in list.iter().flat_map(|i| &i.takes_off) {
        assert!((takes_off.as_kn() - 5.0).abs() < 1e-6, "{takes_off:?}");
    }
}

#[test]
fn law_knowing_less_improves_no_finding() {
    // A wider gap, no rating, no place, and a leg that is not kicked: never a better standing.
    let better = |a: Standing, b: Standing| a < b;
    let base = findings(&situation(1.0, 5.0)).expect("good input");
    let mut without_place = situation(1.0, 5.0);
    without_place.weights[0].burden.place = Place::Unknown;
    let mut without_rating = situation(1.0, 5.0);
    without_rating.legs.iter_mut().for_each(|l| l.rated = None);
    let mut soft = situation(1.0, 5.0);
    for leg in &mut soft.legs {
        leg.support.stiffness = Between { low: Stiffness::mn_per_m(10.0), high: Stiffness::mn_per_m(40.0) };
    }
    for less in [situation(1.3, 5.0), situation(3.0, 5.0), without_place, without_rating, soft] {
        let list = findings(&less).expect("good input");
        for finding in &base {
            let now = list
                .iter()
                .find(|f| f.code == finding.code && f.subject == finding.subject)
                .expect("it stays");
            assert!(
                !better(now.standing, finding.standing),
                "{} {}: {:?}",
                finding.code,
                finding.subject,
                now.standing
            );
        }
    }
}
