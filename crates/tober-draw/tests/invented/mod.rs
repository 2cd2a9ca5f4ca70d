//! Plans of invented rides on invented pitches, for tests and for the example.
#![allow(dead_code, reason = "each test and the example use some of it")]

use tober_calc::finding::Standing;
use tober_plan::{
    Grain, Held, KitLeft, LegPlan, LegWord, MapFeature, MapFeatureKind, Plan, PlanLayer, Surroundings,
};
use tober_quantity::{Angle, Length, Mass, UnitSet, WordSet};

pub fn mm(x: f64) -> Length {
    Length::mm(x)
}
fn m(x: f64, y: f64) -> (Length, Length) {
    (Length::m(x), Length::m(y))
}

/// One layer of boards 600 mm long.
pub fn layer(board: &str, thickness: f64, boards: (usize, f64), grain: Grain) -> PlanLayer {
    PlanLayer {
        board: board.to_owned(),
        thickness: mm(thickness),
        length: mm(600.0),
        width: mm(boards.1),
        side_by_side: boards.0,
        grain,
        thin: false,
        metal: None,
    }
}

/// A sheet of thin ply between timbers.
pub fn thin(thickness: f64) -> PlanLayer {
    PlanLayer {
        board: "ply".to_owned(),
        thickness: mm(thickness),
        length: mm(400.0),
        width: mm(400.0),
        side_by_side: 1,
        grain: Grain::Across,
        thin: true,
        metal: None,
    }
}

/// A leg in a hole at a place, with its layers from the ground up.
pub fn leg(names: (&str, &str), place: (f64, f64), hole: usize, layers: Vec<PlanLayer>) -> LegPlan {
    let stack: f64 = layers.iter().map(|layer| layer.thickness.as_mm()).sum();
    LegPlan {
        name: names.0.to_owned(),
        short: names.1.to_owned(),
        order: 1,
        x: Length::m(place.0),
        y: Length::m(place.1),
        foot_length: mm(250.0),
        foot_width: mm(250.0),
        held: Held::Hole { number: hole, of: 8, pitch: mm(40.0) },
        layers,
        stack: mm(stack),
        lift: mm(stack + 40.0 * (hole as f64 - 1.0)),
        ground: None,
        ground_deviation: None,
        residual: mm(0.0),
        load: None,
        rated: Some(Mass::t(4.6)),
        standing: Standing::NotKnown,
        remarks: Vec::new(),
    }
}

fn measured(leg: LegPlan, ground: f64, load: (f64, f64), standing: Standing) -> LegPlan {
    LegPlan {
        ground: Some(mm(ground)),
        ground_deviation: Some(mm(2.0)),
        load: Some((Mass::t(load.0), Mass::t(load.1))),
        standing,
        ..leg
    }
}

fn said(leg: LegPlan, remarks: &[(&str, Standing)]) -> LegPlan {
    let remarks =
        remarks.iter().map(|(text, standing)| LegWord { text: (*text).to_owned(), standing: *standing });
    LegPlan { remarks: remarks.collect(), ..leg }
}

fn plan(names: (&str, &str), legs: Vec<LegPlan>, surroundings: Surroundings) -> Plan {
    let legs = legs.into_iter().enumerate().map(|(place, leg)| LegPlan { order: place + 1, ..leg }).collect();
    Plan {
        ride: names.0.to_owned(),
        pitch: names.1.to_owned(),
        visit: "spring fair".to_owned(),
        invented: true,
        units: UnitSet::Gb,
        words: WordSet::Gb,
        standing: Standing::NotKnown,
        name: "7c41d09e".to_owned(),
        legs,
        findings: Vec::new(),
        cures: Vec::new(),
        kit_left: vec![KitLeft { board: "spruce sleeper".to_owned(), held: 12, used: 6 }],
        surroundings,
        assumed: Vec::new(),
        way: None,
        cautions: Vec::new(),
    }
}

/// An eight-armed ride on six legs held by pins.
pub fn six_legs() -> Plan {
    use Grain::{Across, Along};
    use Standing::{Close, Inside, NotKnown, PastLimit};
    let sleeper = |grain| layer("spruce sleeper", 75.0, (2, 300.0), grain);
    let board = |grain| layer("board", 25.0, (3, 150.0), grain);
    let mat = |grain| layer("mat", 50.0, (1, 600.0), grain);
    let legs = vec![
        measured(
            leg(("front left", "FL"), (3.5, 2.1), 2, vec![board(Along), thin(12.0), board(Across)]),
            -19.0,
            (2.4, 2.93),
            Inside,
        ),
        measured(leg(("front right", "FR"), (3.5, -2.1), 3, vec![mat(Along)]), -44.0, (3.1, 3.8), Close),
        measured(leg(("middle left", "ML"), (0.0, 2.1), 1, vec![mat(Along)]), 35.0, (2.2, 2.9), Inside),
        measured(leg(("middle right", "MR"), (0.0, -2.1), 1, vec![mat(Along)]), 33.0, (2.2, 3.0), Inside),
        said(
            leg(("rear left", "RL"), (-3.5, 2.1), 3, vec![sleeper(Along)]),
            &[("ground not known", NotKnown)],
        ),
        said(
            measured(
                leg(("rear right", "RR"), (-3.5, -2.1), 3, vec![sleeper(Along), board(Across)]),
                -95.0,
                (3.9, 4.71),
                PastLimit,
            ),
            &[("carries more than its rated load", PastLimit), ("sink test not done", NotKnown)],
        ),
    ];
    let letters = ["A", "B", "C", "D", "E", "F", "G", "H"];
    let arms = letters
        .iter()
        .enumerate()
        .map(|(i, letter)| ((*letter).to_owned(), Angle::deg(180.0 - 45.0 * i as f64), Length::m(6.2)));
    let surroundings = Surroundings {
        frame: vec![m(4.4, 1.2), m(4.4, -1.2), m(-4.4, -1.2), m(-4.4, 1.2)],
        hitch: Some(m(6.0, 0.0)),
        centre: Some(m(0.0, 0.0)),
        reach: Some(Length::m(7.0)),
        arms: arms.collect(),
        passes_over: Vec::new(),
        wheels: vec![m(-1.2, 1.0), m(-1.2, -1.0), m(-2.2, 1.0), m(-2.2, -1.0)],
        features: vec![
            feature("drain line, 0.8 m down", MapFeatureKind::Buried, &[(8.0, 1.0), (5.0, 7.5)]),
            feature("wire overhead", MapFeatureKind::Overhead, &[(-9.0, 4.0), (-5.5, 9.0)]),
            feature("oak", MapFeatureKind::Standing, &[(8.2, -5.5)]),
            feature("north supply", MapFeatureKind::Supply, &[(0.0, -44.0)]),
            feature("way in", MapFeatureKind::Way, &[(-2.0, 12.0), (-3.0, 8.0)]),
        ],
        north: Some(Angle::deg(-60.0)),
    };
    plan(("Lantern Round", "Hollowmere Green"), legs, surroundings)
}

fn feature(name: &str, kind: MapFeatureKind, points: &[(f64, f64)]) -> MapFeature {
    MapFeature { name: name.to_owned(), kind, points: points.iter().map(|(x, y)| m(*x, *y)).collect() }
}

/// A small wheel on four screw jacks, in inches and pounds, with names that try a drawing.
pub fn four_screws() -> Plan {
    use Grain::{Across, Along};
    use Standing::{Close, Inside};
    let plank = |grain| layer("ash & elm <2×10> \"plank\"", 38.1, (2, 241.3), grain);
    let long = "a pad of recycled plastic with a rope handle on either side";
    let screw = |names, place, out: f64, layers: Vec<PlanLayer>| {
        let leg = leg(names, place, 1, layers);
        LegPlan {
            held: Held::Screw { extension: mm(out), travel: mm(304.8), thread: Some(mm(6.35)) },
            lift: leg.stack + mm(out),
            rated: Some(Mass::lb(9000.0)),
            ..leg
        }
    };
    let legs = vec![
        measured(
            screw(("front left", "FL"), (2.4, 1.5), 76.2, vec![plank(Along)]),
            -12.7,
            (1.6, 2.1),
            Inside,
        ),
        measured(
            screw(("front right", "FR"), (2.4, -1.5), 0.0, vec![plank(Along), plank(Across)]),
            -63.5,
            (1.7, 2.2),
            Inside,
        ),
        measured(
            screw(
                ("rear left", "RL"),
                (-2.4, 1.5),
                228.6,
                vec![layer(long, 57.15, (1, 600.0), Along), plank(Across), plank(Along)],
            ),
            -304.8,
            (2.9, 3.6),
            Close,
        ),
        screw(("עמוד אחורי ימני", "RR"), (-2.4, -1.5), 152.4, Vec::new()),
    ];
    let surroundings = Surroundings {
        frame: vec![m(3.0, 1.1), m(3.0, -1.1), m(-3.0, -1.1), m(-3.0, 1.1)],
        hitch: Some(m(4.6, 0.0)),
        centre: None,
        reach: None,
        arms: Vec::new(),
        passes_over: vec![m(0.5, -3.0), m(1.3, -3.0), m(1.3, 3.0), m(0.5, 3.0)],
        wheels: vec![m(-0.8, 1.0), m(-0.8, -1.0)],
        features: vec![
            feature("cabin", MapFeatureKind::Standing, &[(-1.0, 4.0), (1.5, 4.0), (1.5, 6.0), (-1.0, 6.0)]),
            feature("pole", MapFeatureKind::Supply, &[(5.0, -4.0)]),
        ],
        north: Some(Angle::deg(20.0)),
    };
    let mut plan = plan(("Small Wheel", "Lot by the <river> & mill"), legs, surroundings);
    plan.units = UnitSet::Us;
    plan.words = WordSet::Us;
    plan.assumed = vec!["The tower's middle is taken to be its centre of gravity.".to_owned()];
    plan
}

/// A ride on so many legs, half on either side.
pub fn many_legs(count: usize) -> Plan {
    let length = 3.0 + count as f64 * 0.5;
    let legs = (0..count).map(|i| {
        let along = length * (0.5 - (i / 2) as f64 / (count.div_ceil(2).max(2) - 1) as f64);
        let side = if i % 2 == 0 { 1.4 } else { -1.4 };
        let side = if count % 2 == 1 && i + 1 == count { 0.0 } else { side };
        let boards = vec![layer("board", 25.0 + i as f64, (3, 150.0), Grain::Along); i % 4 + 1];
        let short = format!("L{}", i + 1);
        let leg = leg((&format!("leg {}", i + 1), &short), (along, side), i % 8 + 1, boards);
        measured(leg, 10.0 * i as f64 - 100.0, (1.0, 2.0), Standing::Inside)
    });
    let half = length / 2.0 + 0.5;
    let surroundings = Surroundings {
        frame: vec![m(half, 1.2), m(half, -1.2), m(-half, -1.2), m(-half, 1.2)],
        hitch: Some(m(half + 1.5, 0.0)),
        ..Surroundings::default()
    };
    plan(("Long Ride", "Flat Meadow"), legs.collect(), surroundings)
}
