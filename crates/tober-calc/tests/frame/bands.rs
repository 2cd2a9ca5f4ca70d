//! Bands under a frame that bends, and bands cut by what was read of the feet: held to what a crew could meet.

use crate::{Chance, Ladder, assert_near, ladder};
use tober_calc::supports::flexible::{BeamsSolver, BentAnswer, Condensed, FootSpring, NodeLoad};
use tober_calc::supports::{
    Asked, BandAnswer, Bearing, Between, Burden, FootRead, Place, Reading, Seen, Spot, UncertainLoad,
    UncertainSupport, band_of, disagreement,
};
use tober_quantity::{Force, Length, Stiffness};

/// What rounding and the search may leave, as a share of the load.
const SHARE: f64 = 1e-7;

/// What a crew knows of a ladder of a frame under two loads: as it was read, and open.
struct Known {
    frame: Condensed,
    supports: Vec<UncertainSupport>,
    /// Node, least and greatest of each burden: when it was read, and when open.
    loads: [Vec<(usize, f64, f64)>; 2],
}

fn known(seed: u64, gap_mm: f64) -> Known {
    let mut chance = Chance::new(seed);
    let Ladder { beams, supports, feet, .. } = ladder(&mut chance, 4, 6e-5, 0.0);
    let frame = Condensed::new(&beams, &supports).expect("sound");
    let supports = supports
        .iter()
        .zip(&feet)
        .map(|(&node, foot)| {
            let middle = chance.between(-gap_mm, gap_mm);
            UncertainSupport {
                spot: beams.nodes[node],
                stiffness: Between { low: foot.stiffness * 0.7, high: foot.stiffness * 1.3 },
                gap: Between { low: Length::mm(middle - gap_mm), high: Length::mm(middle + gap_mm) },
                seen: None,
            }
        })
        .collect();
    let mut load = |nodes: &[usize]| {
        nodes
            .iter()
            .map(|&node| {
                let q = chance.between(3e4, 6e4);
                (node, 0.95 * q, 1.05 * q)
            })
            .collect()
    };
    let loads = [load(&[2, 5, 7]), load(&[3, 4, 6])];
    Known { frame, supports, loads }
}

impl Known {
    fn load(&self, which: usize) -> (UncertainLoad, Bearing) {
        let at = |node: usize| self.frame.place(node).expect("a node");
        let burdens = self.loads[which]
            .iter()
            .map(|&(node, low, high)| Burden {
                down: Between { low: Force::n(low), high: Force::n(high) },
                place: Place::At(at(node)),
            })
            .collect();
        let places: Vec<(Spot, usize)> =
            self.loads[which].iter().map(|&(node, ..)| (at(node), node)).collect();
        let bearing = Bearing::new(self.frame.clone(), &places, places[0].1).expect("sound");
        (UncertainLoad::of(burdens), bearing)
    }

    /// Springs somewhere within their ends, and the reactions under both loads.
    fn truth(&self, chance: &mut Chance) -> [Vec<f64>; 2] {
        let ends = |chance: &mut Chance, low: f64, high: f64| match chance.between(0.0, 3.0) {
            t if t < 1.0 => low,
            t if t < 2.0 => high,
            _ => chance.between(low, high),
        };
        let feet: Vec<FootSpring> = self
            .supports
            .iter()
            .map(|s| FootSpring {
                stiffness: Stiffness::n_per_m(ends(
                    chance,
                    s.stiffness.low.as_n_per_m(),
                    s.stiffness.high.as_n_per_m(),
                )),
                gap: Length::m(ends(chance, s.gap.low.as_m(), s.gap.high.as_m())),
            })
            .collect();
        [0, 1].map(|which| {
            let loads: Vec<NodeLoad> = self.loads[which]
                .iter()
                .map(|&(node, low, high)| crate::down(node, ends(chance, low, high)))
                .collect();
            let column = self.frame.column(&loads).expect("sound");
            match BeamsSolver::new().solve(&self.frame, &feet, &column) {
                Ok(BentAnswer::Stands(bent)) => crate::reactions_n(bent),
                other => panic!("should stand: {other:?}"),
            }
        })
    }

    fn bands(&self, reading: Option<&Reading>) -> Vec<Between<Force>> {
        let (load, bearing) = self.load(1);
        let asked = Asked { supports: &self.supports, load: &load, bearing: Some(&bearing), reading };
        match band_of(&asked).expect("sound") {
            BandAnswer::Stands(band) => band.supports.iter().map(|s| s.load).collect(),
            other => panic!("should stand: {other:?}"),
        }
    }

    fn reading(&self, feet: Vec<FootRead>) -> Reading {
        let (load, bearing) = self.load(0);
        Reading { load, bearing: Some(bearing), feet }
    }
}

#[test]
fn law_whatever_a_crew_meets_under_a_frame_that_bends_lies_in_its_band() {
    let mut reached = 0;
    for seed in 1..13 {
        let known = known(seed, 6.0);
        let bands = known.bands(None);
        let mut chance = Chance::new(seed + 100);
        for _ in 0..150 {
            for (r, band) in known.truth(&mut chance)[1].iter().zip(&bands) {
                let weight = 2e5;
                assert!(*r >= band.low.as_n() - SHARE * weight, "{r} under {band:?}");
                assert!(*r <= band.high.as_n() + SHARE * weight, "{r} over {band:?}");
                let wide = band.high.as_n() - band.low.as_n();
                reached +=
                    usize::from(*r > band.high.as_n() - 0.25 * wide || *r < band.low.as_n() + 0.25 * wide);
            }
        }
    }
    assert!(reached > 500, "the samples stay far inside: {reached}");
}

#[test]
fn law_the_ends_of_a_band_under_a_frame_that_bends_are_reached_with_proof() {
    for seed in 1..13 {
        let known = known(seed, 6.0);
        let (load, bearing) = known.load(1);
        let asked = Asked { supports: &known.supports, load: &load, bearing: Some(&bearing), reading: None };
        let BandAnswer::Stands(band) = band_of(&asked).expect("sound") else { panic!("stands") };
        assert!(band.tight, "seed {seed}");
        for (i, support) in band.supports.iter().enumerate() {
            let worst = support.heaviest.as_ref().expect("it was found");
            assert!(worst.stands.certificate.residual() <= 1e-9 && worst.bent.is_some());
            assert_near(worst.stands.reactions[i].as_n(), support.load.high.as_n(), SHARE * 2e5);
        }
    }
}

/// What was read of a frame whose truth is known: every foot kicked, some gauged.
fn read_of(truth: &[f64], gauged: usize) -> Vec<FootRead> {
    let (least, most) = (100.0, 5000.0);
    truth
        .iter()
        .enumerate()
        .map(|(i, &r)| FootRead {
            seen: if r > most {
                Some(Seen::Snug { at_least: Force::n(least) })
            } else if r < least {
                Some(Seen::Light { at_most: Force::n(most) })
            } else {
                None
            },
            measured: (i < gauged)
                .then(|| Between { low: Force::n(0.95 * r - 200.0), high: Force::n(1.05 * r + 200.0) }),
        })
        .collect()
}

#[test]
fn law_a_band_cut_by_readings_holds_the_truth_and_a_further_reading_never_widens_it() {
    let (mut narrower, mut kept) = (0, 0);
    for seed in 1..13 {
        let known = known(seed, 6.0);
        let plain = known.bands(None);
        let mut chance = Chance::new(seed + 300);
        for _ in 0..3 {
            let [then, open] = known.truth(&mut chance);
            let mut before = plain.clone();
            for gauged in [0, 2, 6] {
                let bands = known.bands(Some(&known.reading(read_of(&then, gauged))));
                for ((band, wider), r) in bands.iter().zip(&before).zip(&open) {
                    let slack = SHARE * 2e5;
                    assert!(
                        *r >= band.low.as_n() - slack && *r <= band.high.as_n() + slack,
                        "{r} in {band:?}"
                    );
                    assert!(band.low.as_n() >= wider.low.as_n() - slack, "{band:?} after {wider:?}");
                    assert!(band.high.as_n() <= wider.high.as_n() + slack, "{band:?} after {wider:?}");
                    let width = |b: &Between<Force>| b.high.as_n() - b.low.as_n();
                    if width(band) < 0.8 * width(wider) { narrower += 1 } else { kept += 1 }
                }
                before = bands;
            }
        }
    }
    assert!(narrower > 120, "readings narrowed {narrower} bands and left {kept}");
}

/// With two loads in one program an end that rounding keeps from being proved impossible is kept as a bound, so a band is cut to what is possible
/// without the reading: one that tells nothing leaves it no wider.
#[test]
fn law_a_reading_that_tells_nothing_leaves_no_band_wider() {
    /// What two searches of one end may differ by, as a share of the load: rounding.
    const SAME_END: f64 = 1e-9;
    let mut cut = 0;
    for seed in 1..40 {
        let known = known(seed, 12.0);
        let plain = known.bands(None);
        for feet in [
            vec![FootRead::default(); 6],
            vec![FootRead { seen: Some(Seen::Light { at_most: Force::n(1e6) }), measured: None }; 6],
        ] {
            for (band, without) in known.bands(Some(&known.reading(feet))).iter().zip(&plain) {
                assert!(
                    band.low.as_n() >= without.low.as_n() - SAME_END * 2e5,
                    "{seed}: {band:?} after {without:?}"
                );
                assert!(
                    band.high.as_n() <= without.high.as_n() + SAME_END * 2e5,
                    "{seed}: {band:?} after {without:?}"
                );
                cut += 1;
            }
        }
    }
    assert!(cut > 400, "{cut} bands were looked at");
}

#[test]
fn hand_a_gauge_that_cannot_be_right_is_named_with_by_how_much() {
    // All is known but the frame: so each reaction is one number, and a gauge 3 kN above it that may be off by
    // 1 kN misses it by 2 kN.
    let mut known = known(4, 0.0);
    for s in &mut known.supports {
        s.stiffness = Between::exact(s.stiffness.middle());
    }
    for load in known.loads.iter_mut().flatten() {
        (load.1, load.2) = (load.1 / 0.95, load.1 / 0.95);
    }
    let then = known.truth(&mut Chance::new(1))[0].clone();
    let mut feet = vec![FootRead::default(); 6];
    let gauge = |r: f64| Some(Between { low: Force::n(r - 1e3), high: Force::n(r + 1e3) });
    feet[3].measured = gauge(then[3] + 3e3);
    feet[1].measured = gauge(then[1] + 500.0);
    let reading = known.reading(feet.clone());
    let (load, bearing) = known.load(1);
    let asked =
        Asked { supports: &known.supports, load: &load, bearing: Some(&bearing), reading: Some(&reading) };
    assert_eq!(band_of(&asked).expect("sound"), BandAnswer::ReadingsDisagree);
    let apart = disagreement(&known.supports, &reading).expect("sound").expect("they disagree");
    assert_eq!(apart.alone.len(), 1);
    assert_eq!(apart.alone[0].support, 3);
    assert_near(apart.alone[0].by.as_n(), 2e3, 1.0);
    assert_near(apart.together.expect("they miss").as_n(), 2e3, 1.0);
    feet[3].measured = gauge(then[3] + 500.0);
    assert_eq!(disagreement(&known.supports, &known.reading(feet)).expect("sound"), None);
}

#[test]
fn hand_gauges_that_are_right_one_by_one_and_not_together_are_told_so() {
    // With wide gaps each of six feet may carry much, but not all of them at once: their sum is the weight.
    let known = known(2, 12.0);
    let bands = {
        let (load, bearing) = known.load(0);
        let asked = Asked { supports: &known.supports, load: &load, bearing: Some(&bearing), reading: None };
        let BandAnswer::Stands(band) = band_of(&asked).expect("sound") else { panic!("stands") };
        band.supports.iter().map(|s| s.load).collect::<Vec<_>>()
    };
    let feet = bands
        .iter()
        .map(|b| FootRead {
            seen: None,
            measured: Some(Between { low: b.high - Force::kn(1.0), high: b.high }),
        })
        .collect();
    let reading = known.reading(feet);
    let apart = disagreement(&known.supports, &reading).expect("sound").expect("they disagree");
    assert!(apart.alone.is_empty(), "{:?}", apart.alone);
    // Sum of the least readings over the greatest weight, shared by six feet at least.
    let least: f64 = bands.iter().map(|b| b.high.as_n() - 1e3).sum();
    let weight: f64 = known.loads[0].iter().map(|l| l.2).sum();
    assert!(apart.together.expect("they miss").as_n() >= (least - weight) / 6.0 - 1.0);
}

#[test]
fn refuse_readings_and_bearings_for_other_supports() {
    let known = known(1, 3.0);
    let (load, bearing) = known.load(1);
    let supports = &known.supports;
    let short = known.reading(vec![FootRead::default(); 4]);
    let asked = Asked { supports, load: &load, bearing: Some(&bearing), reading: Some(&short) };
    assert!(band_of(&asked).expect_err("two are missing").to_string().contains("4 readings for 6 supports"));
    let mut more = load.clone();
    more.burdens.push(more.burdens[0]);
    let asked = Asked { supports, load: &more, bearing: Some(&bearing), reading: None };
    assert!(band_of(&asked).expect_err("one bears nowhere").to_string().contains("4 burdens and 3 places"));
    let mut feet = vec![FootRead::default(); 6];
    feet[2].measured = Some(Between { low: Force::kn(5.0), high: Force::kn(4.0) });
    let turned = known.reading(feet);
    let asked = Asked { supports, load: &load, bearing: Some(&bearing), reading: Some(&turned) };
    assert!(band_of(&asked).expect_err("turned round").to_string().contains("support 3"));
}
