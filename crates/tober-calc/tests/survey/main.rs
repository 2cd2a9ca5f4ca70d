//! Properties of every method of the survey, on invented ground with readings drawn from the deviations they are said
//! to have: the ground comes back, and it is off by as much as the survey says it may be.

use std::collections::BTreeMap;
use tober_calc::survey::{
    Axis, FixedPoint, Laser, LaserSetUp, LaserSurvey, LevelReading, Place, SetUp, Sight, Spot, StaffReading,
    Survey, TapeReading, TapeSurvey, WaterReading, WaterSurvey, laser, scale, spots, tape, water_level,
};
use tober_quantity::{Angle, Length, Slope, maths};

/// How often each method is tried.
const TRIES: usize = 400;
/// The mean square of an error over its deviation is 1; from so many tries it is off by no more than this, five of its
/// own deviations (√(2 / 400) = 0.07; points of one try hang together, so they count as one).
const MEAN_SQUARE_OFF: f64 = 0.36;

/// Numbers that look random and never change (a linear congruential generator).
struct Numbers(u64);

impl Numbers {
    fn even(&mut self) -> f64 {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        ((self.0 >> 11) as f64 + 0.5) / (1_u64 << 53) as f64
    }
    /// Drawn from the normal distribution (Box and Muller).
    fn normal(&mut self) -> f64 {
        let (a, b) = (self.even(), self.even());
        (-2.0 * maths::ln(a)).sqrt() * maths::cos(core::f64::consts::TAU * b)
    }
}

struct Ground {
    names: Vec<String>,
    places: Vec<(f64, f64)>,
    heights: Vec<f64>,
}

impl Ground {
    fn invented(numbers: &mut Numbers) -> Self {
        let count = 4 + (numbers.even() * 6.0) as usize;
        Self {
            names: (0..count).map(|i| format!("p{i}")).collect(),
            places: (0..count).map(|_| (numbers.even() * 20.0 - 10.0, numbers.even() * 8.0 - 4.0)).collect(),
            heights: (0..count).map(|_| numbers.even() * 0.4 - 0.9).collect(),
        }
    }
    fn place(&self, i: usize) -> Place {
        Place { x: Length::m(self.places[i].0), y: Length::m(self.places[i].1) }
    }
    fn located(&self) -> BTreeMap<String, Place> {
        (0..self.names.len()).map(|i| (self.names[i].clone(), self.place(i))).collect()
    }
}

/// A survey of the ground with errors so many times as great as they are said to be, and the height it is above.
type Way = fn(&Ground, &mut Numbers, f64) -> (Survey, f64);

fn from_frame(ground: &Ground, numbers: &mut Numbers, times: f64) -> TapeSurvey {
    let (a, b) = (numbers.even() * 0.02 - 0.01, numbers.even() * 0.02 - 0.01);
    let (slope_dev, tape_dev) = (0.3e-3, 2e-3);
    let mut level = |axis, slope| LevelReading {
        axis,
        slope: Slope::ratio(slope + times * slope_dev * numbers.normal()),
        deviation: Slope::ratio(slope_dev),
    };
    let levels = vec![level(Axis::X, a), level(Axis::Y, b)];
    let readings = (0..ground.names.len())
        .map(|i| {
            let (x, y) = ground.places[i];
            let down = a * x + b * y - ground.heights[i] + times * tape_dev * numbers.normal();
            TapeReading {
                point: ground.names[i].clone(),
                place: ground.place(i),
                above_frame: Length::ZERO,
                tape: Length::m(down),
            }
        })
        .collect();
    TapeSurvey { levels, tape_deviation: Length::m(tape_dev), readings }
}

fn by_tape(ground: &Ground, numbers: &mut Numbers, times: f64) -> (Survey, f64) {
    (tape(&from_frame(ground, numbers, times)).expect("sound"), 0.0)
}

fn by_scale(ground: &Ground, numbers: &mut Numbers, times: f64) -> (Survey, f64) {
    (scale(&from_frame(ground, numbers, times)).expect("sound"), 0.0)
}

fn by_water(ground: &Ground, numbers: &mut Numbers, times: f64) -> (Survey, f64) {
    let line = [0.3, 0.55];
    let half = ground.names.len() / 2;
    // Every point from the first line up to the middle, from the second from one before it on.
    let turns = (0..=half).map(|i| (0, i)).chain((half - 1..ground.names.len()).map(|i| (1, i)));
    let readings = turns
        .map(|(from, i)| WaterReading {
            point: ground.names[i].clone(),
            line: format!("{from}"),
            down: Length::m(line[from] - ground.heights[i] + times * 2e-3 * numbers.normal()),
        })
        .collect();
    let asked = WaterSurvey { deviation: Length::mm(2.0), readings, places: ground.located() };
    (water_level(&asked).expect("sound"), line[0])
}

fn by_spots(ground: &Ground, numbers: &mut Numbers, times: f64) -> (Survey, f64) {
    let spot = |i: usize| Spot {
        point: ground.names[i].clone(),
        place: Some(ground.place(i)),
        height: Length::m(62.0 + ground.heights[i] + times * 3e-3 * numbers.normal()),
        deviation: None,
    };
    let list: Vec<Spot> = (0..ground.names.len()).map(spot).collect();
    (spots(&list, Length::mm(3.0)).expect("sound"), -62.0)
}

fn by_laser(ground: &Ground, numbers: &mut Numbers, times: f64) -> (Survey, f64) {
    let (plane, cone, own) = (0.2e-3, 0.1e-3, 1e-3);
    let lean = [times * plane * numbers.normal(), times * plane * numbers.normal()];
    let rise = times * cone * numbers.normal();
    let set_ups = (0..2)
        .map(|k| {
            let at = (numbers.even() * 10.0 - 5.0, numbers.even() * 6.0 - 3.0);
            let heading = numbers.even() * 360.0;
            let (sin, cos) = (maths::sin(heading.to_radians()), maths::cos(heading.to_radians()));
            let up = 0.8 + numbers.even();
            let read = |i: usize| {
                let (x, y) = (ground.places[i].0 - at.0, ground.places[i].1 - at.1);
                let d = maths::hypot(x, y);
                let leaning = lean[0] * (x * cos + y * sin) + lean[1] * (y * cos - x * sin);
                let curved = 0.0673 * (d / 1e3) * (d / 1e3);
                let staff =
                    up - ground.heights[i] + leaning + rise * d + curved + times * own * numbers.normal();
                StaffReading {
                    point: ground.names[i].clone(),
                    sight: Sight::Intermediate,
                    staff: Length::m(staff),
                    distance: None,
                }
            };
            LaserSetUp {
                set_up: SetUp { name: format!("{k}"), readings: (0..ground.names.len()).map(read).collect() },
                at: Some(Place { x: Length::m(at.0), y: Length::m(at.1) }),
                heading: Some(Angle::deg(heading)),
            }
        })
        .collect();
    let asked = LaserSurvey {
        laser: Laser {
            reading: Length::m(own),
            plane: Slope::ratio(plane),
            cone: Slope::ratio(cone),
            sight_longest: Length::m(50.0),
        },
        fixed: vec![FixedPoint { name: "p0".into(), height: Length::m(5.0) }],
        set_ups,
        places: ground.located(),
    };
    (laser(&asked).expect("sound"), ground.heights[0] - 5.0)
}

const WAYS: [(&str, Way); 5] = [
    ("tape", by_tape),
    ("scale", by_scale),
    ("water level", by_water),
    ("spots", by_spots),
    ("laser", by_laser),
];

#[test]
fn law_readings_without_errors_give_the_ground_back() {
    for (name, way) in WAYS {
        let mut numbers = Numbers(11);
        for _ in 0..TRIES / 4 {
            let ground = Ground::invented(&mut numbers);
            let (found, above) = way(&ground, &mut numbers, 0.0);
            assert!(
                found.suspects.iter().all(|s| s.reading.set_up == "tape" || s.reading.set_up == "scale"),
                "{name}"
            );
            for height in &found.heights {
                let i = ground.names.iter().position(|n| *n == height.name).expect("a point");
                let off = height.height.as_m() + above - ground.heights[i];
                assert!(off.abs() < 1e-9, "{name}: {height:?} is off by {off:e}");
            }
        }
    }
}

/// Where readings disagree by more than they should the survey makes its deviations greater; that is taken out here, so that
/// what is tried is how the errors hang together.
#[test]
fn law_heights_and_their_differences_are_off_by_what_the_survey_says() {
    for (name, way) in WAYS {
        let mut numbers = Numbers(5);
        let (mut heights, mut apart, mut tries) = (0.0, 0.0, 0.0);
        for _ in 0..TRIES {
            let ground = Ground::invented(&mut numbers);
            let (found, above) = way(&ground, &mut numbers, 1.0);
            // Without the scale, so that what is tried is the covariance itself.
            let scale = found.deviations_scaled_by.as_one();
            let off = |i: usize| {
                let at = ground.names.iter().position(|n| *n == found.heights[i].name).expect("a point");
                found.heights[i].height.as_m() + above - ground.heights[at]
            };
            let last = found.heights.len() - 1;
            let whole = off(last) * scale / found.heights[last].deviation.as_m();
            let between = (off(last) - off(1)) * scale
                / found.covariance.deviation_of(&[(last, 1.0), (1, -1.0)]).as_m();
            heights += whole * whole;
            apart += between * between;
            tries += 1.0;
        }
        for (what, sum) in [("a height", heights), ("a difference", apart)] {
            let mean = sum / tries;
            assert!((mean - 1.0).abs() < MEAN_SQUARE_OFF, "{name}: the mean square of {what} is {mean}");
        }
    }
}
