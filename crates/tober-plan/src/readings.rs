//! From the readings of the pitch, whichever method they were made by, to surveyed heights.

use std::collections::BTreeMap;
use tober_book::{KnownPoint, Point, Readings, Repeated, Ride, StaffKind, StaffReading as BookedReading};
use tober_calc::survey::{
    Axis, FixedPoint, Instrument, Laser, LaserSetUp, LaserSurvey, LevelReading, Place, SetUp, Sight, Spot,
    StaffReading, StaffSurvey, Survey, SurveyError, TapeReading, TapeSurvey, WaterReading, WaterSurvey,
    laser, scale, spots, staff, tape, water_level,
};
use tober_quantity::{Length, Slope};

/// What the readings of a pitch come to.
pub(crate) struct Surveyed {
    pub survey: Survey,
    /// Whether the book says how good the instrument is.
    pub deviations_known: bool,
    /// Whether places are in the axes of the frame; otherwise in those of the pitch.
    pub on_frame: bool,
    /// The published limit for how the run may close, by its name.
    pub closure_limit: Option<String>,
    /// Points whose height is known.
    pub known_points: Vec<String>,
}

/// Works out the readings of a pitch.
///
/// Where nobody said how good the instrument is, a figure stands in so that heights can be worked out; the
/// deviations that come of it are thrown away by whoever asks.
pub(crate) fn surveyed(ride: &Ride, readings: &Readings) -> Result<Surveyed, SurveyError> {
    let at_legs = |survey: Survey, deviations_known: bool| Surveyed {
        survey,
        deviations_known,
        on_frame: true,
        closure_limit: None,
        known_points: Vec::new(),
    };
    match readings {
        Readings::Tape(read) => {
            let legs = read.legs.iter().map(|leg| (leg.leg.as_str(), leg.tape));
            let asked = from_frame(
                ride,
                (&read.slope_along, &read.slope_across, read.slope_deviation),
                read.tape_deviation,
                legs,
            );
            Ok(at_legs(tape(&asked)?, read.slope_deviation.is_some() && read.tape_deviation.is_some()))
        }
        Readings::Scale(read) => {
            let legs = read.legs.iter().map(|leg| (leg.leg.as_str(), leg.reading));
            let asked = from_frame(
                ride,
                (&read.slope_along, &read.slope_across, read.slope_deviation),
                read.reading_deviation,
                legs,
            );
            Ok(at_legs(scale(&asked)?, read.slope_deviation.is_some() && read.reading_deviation.is_some()))
        }
        Readings::WaterLevel(read) => {
            let mut asked = WaterSurvey {
                deviation: read.reading_deviation.unwrap_or(Length::mm(3.0)),
                readings: Vec::new(),
                places: BTreeMap::new(),
            };
            for leg in &read.legs {
                let Some(support) = ride.support(&leg.leg) else { continue };
                asked.places.insert(leg.leg.clone(), place(support.at));
                asked.readings.push(WaterReading {
                    point: leg.leg.clone(),
                    line: leg.line.clone().unwrap_or_else(|| "water line".to_owned()),
                    down: leg.reading,
                });
            }
            Ok(at_legs(water_level(&asked)?, read.reading_deviation.is_some()))
        }
        Readings::Staff(read) => {
            let (set_ups, places) = booked(&read.readings);
            let survey = staff(&StaffSurvey {
                instrument: Instrument {
                    reading: read.reading_deviation.unwrap_or(Length::mm(3.0)),
                    line_of_sight: read.line_of_sight_deviation.unwrap_or(Slope::mm_per_m(0.1)),
                    sight_longest: read.sight_longest.unwrap_or(Length::m(100.0)),
                },
                fixed: fixed(&read.known_points, &read.readings),
                set_ups,
                places,
            })?;
            Ok(Surveyed {
                survey,
                deviations_known: read.reading_deviation.is_some() && read.line_of_sight_deviation.is_some(),
                on_frame: false,
                closure_limit: read.closure_limit.clone(),
                known_points: names(&read.known_points),
            })
        }
        Readings::Laser(read) => {
            let (set_ups, places) = booked(&read.readings);
            let standing = |set_up: SetUp| {
                let told = read.set_ups.iter().find(|told| told.name == set_up.name);
                LaserSetUp {
                    at: told.and_then(|told| told.at).map(place),
                    heading: told.and_then(|told| told.heading),
                    set_up,
                }
            };
            let survey = laser(&LaserSurvey {
                laser: Laser {
                    reading: read.reading_deviation.unwrap_or(Length::mm(3.0)),
                    plane: read.plane_deviation.unwrap_or(Slope::mm_per_m(0.1)),
                    cone: read.cone_deviation.unwrap_or(Slope::mm_per_m(0.1)),
                    sight_longest: read.sight_longest.unwrap_or(Length::m(100.0)),
                },
                fixed: fixed(&read.known_points, &read.readings),
                set_ups: set_ups.into_iter().map(standing).collect(),
                places,
            })?;
            let told = [read.plane_deviation, read.cone_deviation];
            Ok(Surveyed {
                survey,
                deviations_known: read.reading_deviation.is_some() && told.iter().all(Option::is_some),
                on_frame: false,
                closure_limit: read.closure_limit.clone(),
                known_points: names(&read.known_points),
            })
        }
        Readings::Spots(read) => {
            let spot = |spot: &tober_book::SpotHeight| Spot {
                point: spot.point.clone(),
                place: spot.at.map(place),
                height: spot.height,
                deviation: spot.deviation,
            };
            let list: Vec<Spot> = read.spots.iter().map(spot).collect();
            let deviation = read.height_deviation.unwrap_or(Length::mm(3.0));
            Ok(Surveyed {
                deviations_known: read.height_deviation.is_some()
                    || list.iter().all(|s| s.deviation.is_some()),
                survey: spots(&list, deviation)?,
                on_frame: false,
                closure_limit: None,
                known_points: Vec::new(),
            })
        }
    }
}

/// Readings down from the plane of the frame, by a tape or by the scale of a leg.
fn from_frame<'a>(
    ride: &Ride,
    (along, across, slope_deviation): (&Repeated<Slope>, &Repeated<Slope>, Option<Slope>),
    deviation: Option<Length>,
    legs: impl Iterator<Item = (&'a str, Length)>,
) -> TapeSurvey {
    let slope_deviation = slope_deviation.unwrap_or(Slope::mm_per_m(1.0));
    let levels = [(Axis::X, along), (Axis::Y, across)]
        .into_iter()
        .flat_map(|(axis, slopes): (Axis, &Repeated<Slope>)| {
            slopes.0.iter().map(move |&slope| LevelReading { axis, slope, deviation: slope_deviation })
        })
        .collect();
    let read = legs.filter_map(|(leg, tape)| {
        let place = place(ride.support(leg)?.at);
        Some(TapeReading { point: leg.to_owned(), place, above_frame: Length::ZERO, tape })
    });
    let tape_deviation = deviation.unwrap_or(Length::mm(5.0));
    TapeSurvey { levels, tape_deviation, readings: read.collect() }
}

/// The set-ups of a booking, and where its points are.
fn booked(readings: &[BookedReading]) -> (Vec<SetUp>, BTreeMap<String, Place>) {
    let mut set_ups: Vec<SetUp> = Vec::new();
    let mut places = BTreeMap::new();
    for reading in readings {
        let sight = match reading.kind {
            StaffKind::Back => Sight::Back,
            StaffKind::Between => Sight::Intermediate,
            StaffKind::Fore => Sight::Fore,
        };
        let booked = StaffReading {
            point: reading.point.clone(),
            sight,
            staff: reading.reading,
            distance: reading.distance,
        };
        match set_ups.iter_mut().find(|set_up| set_up.name == reading.set_up) {
            Some(set_up) => set_up.readings.push(booked),
            None => set_ups.push(SetUp { name: reading.set_up.clone(), readings: vec![booked] }),
        }
        if let Some(at) = reading.at {
            places.entry(reading.point.clone()).or_insert(place(at));
        }
    }
    (set_ups, places)
}

/// The known points, or else the first point that was read, as the datum.
fn fixed(known: &[KnownPoint], readings: &[BookedReading]) -> Vec<FixedPoint> {
    if known.is_empty() {
        let first = readings.first().map(|r| r.point.clone());
        return first.map(|name| FixedPoint { name, height: Length::ZERO }).into_iter().collect();
    }
    known.iter().map(|k| FixedPoint { name: k.point.clone(), height: k.height }).collect()
}

fn names(known: &[KnownPoint]) -> Vec<String> {
    known.iter().map(|k| k.point.clone()).collect()
}

pub(crate) fn place(at: Point) -> Place {
    Place { x: at.along, y: at.across }
}
