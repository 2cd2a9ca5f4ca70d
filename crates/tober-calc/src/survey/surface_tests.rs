//! Laws and refusals of the triangulated surface.

use super::*;
use crate::survey::Place;

fn point(name: &str, x: f64, y: f64, z: f64) -> PointHeight {
    PointHeight {
        name: name.to_owned(),
        place: Some(Place { x: Length::m(x), y: Length::m(y) }),
        height: Length::m(z),
        deviation: Length::mm(2.0),
        checked: true,
    }
}

/// Numbers that look random and never change (a linear congruential generator).
struct Numbers(u64);

impl Numbers {
    fn next(&mut self) -> f64 {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 11) as f64 / (1_u64 << 53) as f64
    }
}

fn scattered(count: usize, start: u64) -> Vec<PointHeight> {
    let mut numbers = Numbers(start);
    (0..count)
        .map(|i| {
            let (x, y, z) = (numbers.next() * 20.0, numbers.next() * 8.0, numbers.next() * 0.4);
            point(&format!("p{i:03}"), x, y, z)
        })
        .collect()
}

/// Twice the area under the surface's triangles, in square tenths.
fn twice_area(surface: &Surface) -> i64 {
    surface
        .triangles
        .iter()
        .map(|t| {
            let [a, b, c] = t.map(|i| surface.corners[i]);
            let area = side(a, b, c);
            assert!(area > 0, "every triangle turns counter-clockwise");
            area
        })
        .sum()
}

/// Three points of a right triangle: half-way along the long side lies the mean of its ends.
#[test]
fn hand_one_triangle() {
    let surface =
        Surface::over(&[point("a", 0.0, 0.0, 1.0), point("b", 4.0, 0.0, 2.0), point("c", 0.0, 3.0, 4.0)])
            .expect("three points");
    let (height, deviation) = surface.height_at(Length::m(2.0), Length::m(1.5)).expect("on the edge");
    assert!((height.as_m() - 3.0).abs() < 1e-12 && (deviation.as_mm() - 2.0).abs() < 1e-12);
    assert!(surface.height_at(Length::m(2.001), Length::m(1.5)).is_none());
    assert!(surface.height_at(Length::m(-0.001), Length::ZERO).is_none());
    assert!(surface.height_at(Length::m(f64::NAN), Length::ZERO).is_none());
}

/// Over a plane the surface is the plane, everywhere inside.
#[test]
fn law_a_plane_is_reproduced() {
    let mut points = scattered(60, 7);
    for p in &mut points {
        let at = p.place.expect("placed");
        p.height = Length::m(0.03 * at.x.as_m() - 0.05 * at.y.as_m() + 0.2);
    }
    let surface = Surface::over(&points).expect("sound");
    let (mut inside, mut worst) = (0, 0.0_f64);
    for i in 0..400 {
        let (x, y) = (f64::from(i % 20) + 0.5, f64::from(i / 20) * 0.4 + 0.2);
        if let Some((height, _)) = surface.height_at(Length::m(x), Length::m(y)) {
            inside += 1;
            worst = worst.max((height.as_m() - (0.03 * x - 0.05 * y + 0.2)).abs());
        }
    }
    // Corners are rounded to a tenth of a millimetre on the plan: 0.05 mm at a slope of 0.06.
    assert!(inside > 250 && worst < 4e-6, "{inside} {worst}");
}

/// The triangles cover the outline once, every one is empty of other points, and there are 2n − 2 − h.
#[test]
fn law_triangles_are_delaunay_and_cover_the_outline() {
    for start in 1..30 {
        let surface = Surface::over(&scattered(40, start)).expect("sound");
        for t in &surface.triangles {
            let [a, b, c] = t.map(|i| surface.corners[i]);
            for (i, &d) in surface.corners.iter().enumerate() {
                if t.contains(&i) {
                    continue;
                }
                let flat = |p: Corner| Corner { z: 0, ..p };
                assert!(!should_flip(flat(a), flat(b), flat(c), flat(d)), "a corner inside a circle");
            }
        }
        let mut edges: BTreeMap<(usize, usize), usize> = BTreeMap::new();
        for t in &surface.triangles {
            for k in 0..3 {
                let (a, b) = (t[k], t[(k + 1) % 3]);
                *edges.entry((a.min(b), a.max(b))).or_default() += 1;
            }
        }
        let outline = edges.values().filter(|count| **count == 1).count();
        assert!(edges.values().all(|count| *count <= 2));
        assert_eq!(surface.triangles.len(), 2 * 40 - 2 - outline);
        assert!(twice_area(&surface) > 0);
    }
}

/// A grid has four corners on one circle everywhere. Its whole area is covered, and turned or mirrored it
/// gives the same heights.
#[test]
fn law_mirrored_and_reordered_grids_give_the_same_heights() {
    let mut numbers = Numbers(11);
    let grid: Vec<PointHeight> = (0..24)
        .map(|i| {
            let (x, y) = (f64::from(i % 6) * 1.5, f64::from(i / 6) * 1.5);
            point(&format!("g{i:02}"), x, y, (numbers.next() * 300.0).round() / 1000.0)
        })
        .collect();
    let plain = Surface::over(&grid).expect("sound");
    assert_eq!(twice_area(&plain), 2 * 75_000 * 45_000);
    let mut mirrored = grid.clone();
    for p in &mut mirrored {
        p.place = p.place.map(|at| Place { x: -at.x, y: at.y });
    }
    mirrored.reverse();
    let mirrored = Surface::over(&mirrored).expect("sound");
    for i in 0..300 {
        let (x, y) = (f64::from(i % 20) * 0.37, f64::from(i / 20) * 0.29);
        let a = plain.height_at(Length::m(x), Length::m(y)).expect("inside").0;
        let b = mirrored.height_at(Length::m(-x), Length::m(y)).expect("inside").0;
        assert!((a - b).as_mm().abs() < 1e-9, "{x} {y}: {a:?} {b:?}");
    }
}

/// Of the two diagonals of a twisted rectangle the higher one is taken, whichever corners are high.
#[test]
fn law_the_higher_diagonal_is_taken() {
    for high in [[0.1, 0.0, 0.0, 0.1], [0.0, 0.1, 0.1, 0.0]] {
        let [a, b, c, d] = high;
        let surface = Surface::over(&[
            point("a", 0.0, 0.0, a),
            point("b", 4.0, 0.0, b),
            point("c", 0.0, 2.0, c),
            point("d", 4.0, 2.0, d),
        ])
        .expect("sound");
        let (height, _) = surface.height_at(Length::m(2.0), Length::m(1.0)).expect("inside");
        assert!((height.as_m() - 0.1).abs() < 1e-12, "{height:?}");
    }
}

#[test]
fn law_shifting_the_datum_shifts_the_surface() {
    let low = scattered(25, 3);
    let mut high = low.clone();
    for p in &mut high {
        p.height = p.height + Length::m(812.0);
    }
    let (low, high) = (Surface::over(&low).expect("sound"), Surface::over(&high).expect("sound"));
    for i in 0..100 {
        let (x, y) = (Length::m(f64::from(i % 10) * 2.0), Length::m(f64::from(i / 10) * 0.8));
        match (low.height_at(x, y), high.height_at(x, y)) {
            (Some(a), Some(b)) => assert!(((b.0 - a.0).as_m() - 812.0).abs() < 1e-9),
            (None, None) => {}
            other => panic!("{other:?}"),
        }
    }
}

#[test]
fn refuse_flat_repeated_and_broken_points() {
    let refused = |points: &[PointHeight]| {
        let said = Surface::over(points).expect_err("must be refused").to_string();
        assert!(said.ends_with('.'), "{said}");
        said
    };
    let line: Vec<PointHeight> =
        (0..9).map(|i| point(&format!("l{i}"), f64::from(i), 2.0 * f64::from(i), 0.0)).collect();
    assert!(refused(&line).contains("All 9 points lie on one line"));
    assert!(refused(&line[..2]).contains("Only 2 points"));
    assert!(refused(&[]).contains("Only 0 points"));
    let twice = [
        point("a", 0.0, 0.0, 0.0),
        point("b", 1.0, 0.0, 0.0),
        point("c", 0.0, 1.0, 0.0),
        point("d", 1.0, 0.000_01, 0.0),
    ];
    assert!(refused(&twice).contains("b and d stand at the same place"));
    let mut broken = twice.to_vec();
    broken[3] = point("d", 1.0, f64::INFINITY, 0.0);
    assert!(refused(&broken).contains("place along y at d is not a number"));
    broken[3] = point("d", 1.0, 1e9, 0.0);
    assert!(refused(&broken).contains("1000000000"));
    broken[3] = point("d", 1.0, 1.0, f64::NAN);
    assert!(refused(&broken).contains("height at d"));
    broken[3].height = Length::ZERO;
    broken[3].deviation = Length::m(-1.0);
    assert!(refused(&broken).contains("deviation at d"));
}

/// Points on one line at the start of the sweep, on either side of it, and at the greatest distances.
#[test]
fn law_collinear_starts_and_far_corners_are_covered() {
    for y in [3.0, -3.0] {
        let mut points: Vec<PointHeight> =
            (0..6).map(|i| point(&format!("l{i}"), 0.0, f64::from(i), 0.0)).collect();
        points.push(point("side", 2.0, y, 0.0));
        let surface = Surface::over(&points).expect("sound");
        assert_eq!(surface.triangles.len(), 5);
        assert_eq!(twice_area(&surface), 50_000 * 20_000);
    }
    let corners = [(-100.0, -100.0), (100.0, -100.0), (100.0, 100.0), (-100.0, 100.0), (0.0, 0.0)];
    let points: Vec<PointHeight> =
        corners.iter().enumerate().map(|(i, &(x, y))| point(&format!("f{i}"), x, y, 0.0)).collect();
    let surface = Surface::over(&points).expect("sound");
    assert_eq!(twice_area(&surface), 2 * 2_000_000 * 2_000_000);
}

/// Twice the area of the outline of some points, by Andrew's two chains: another way than the sweep's.
fn twice_outline(points: &[(i64, i64)]) -> i64 {
    let mut sorted = points.to_vec();
    sorted.sort_unstable();
    let turn =
        |a: (i64, i64), b: (i64, i64), c: (i64, i64)| (b.0 - a.0) * (c.1 - a.1) - (b.1 - a.1) * (c.0 - a.0);
    let chain = |order: &mut dyn Iterator<Item = (i64, i64)>| {
        let mut chain: Vec<(i64, i64)> = Vec::new();
        for p in order {
            while chain.len() > 1 && turn(chain[chain.len() - 2], chain[chain.len() - 1], p) <= 0 {
                chain.pop();
            }
            chain.push(p);
        }
        chain.pop();
        chain
    };
    let mut outline = chain(&mut sorted.iter().copied());
    outline.extend(chain(&mut sorted.iter().rev().copied()));
    (0..outline.len()).map(|i| turn((0, 0), outline[i], outline[(i + 1) % outline.len()])).sum()
}

/// Points drawn from a grid of six by six tenths of a millimetre: lines and circles through many of them.
/// Either all are on one line and refused, or the triangles cover the outline once.
#[test]
fn law_crowded_grids_are_covered_or_refused() {
    let mut numbers = Numbers(2);
    let (mut covered, mut refused) = (0, 0);
    for round in 0..3000 {
        let mut at = std::collections::BTreeSet::new();
        for _ in 0..3 + round % 12 {
            #[expect(clippy::cast_possible_truncation, reason = "below six")]
            at.insert(((numbers.next() * 6.0) as i64, (numbers.next() * 6.0) as i64));
        }
        let at: Vec<(i64, i64)> = at.into_iter().collect();
        let points: Vec<PointHeight> = at
            .iter()
            .enumerate()
            .map(|(i, &(x, y))| point(&format!("c{i}"), x as f64 * 1e-4, y as f64 * 1e-4, numbers.next()))
            .collect();
        match Surface::over(&points) {
            Ok(surface) => {
                assert_eq!(twice_area(&surface), twice_outline(&at), "{at:?}");
                covered += 1;
            }
            Err(SurveyError::OnOneLine { .. }) => {
                assert_eq!(twice_outline(&at), 0, "{at:?}");
                refused += 1;
            }
            Err(SurveyError::TooFewPoints { .. }) => assert!(at.len() < 3),
            Err(other) => panic!("{other}"),
        }
    }
    assert!(covered > 2000 && refused > 5, "{covered} {refused}");
}

/// Over a plane the ground is not rough, and the deviation of the readings is that of the covariance: equal and
/// free errors at three corners make 2/√3 mm in the middle, and 2 mm at a corner.
#[test]
fn hand_ground_in_the_middle_of_a_triangle() {
    let points = [point("a", 0.0, 0.0, 1.0), point("b", 3.0, 0.0, 1.0), point("c", 0.0, 3.0, 1.0)];
    let list: Vec<crate::survey::Spot> = points
        .iter()
        .map(|p| crate::survey::Spot {
            point: p.name.clone(),
            place: p.place,
            height: p.height,
            deviation: None,
        })
        .collect();
    let survey = crate::survey::spots(&list, Length::mm(2.0)).expect("sound");
    let surface = Surface::over_survey(&survey).expect("sound");
    let ground = surface.ground_at(Length::m(1.0), Length::m(1.0)).expect("inside");
    assert!((ground.readings.as_mm() - 2.0 / 3.0_f64.sqrt()).abs() < 1e-9, "{ground:?}");
    assert_eq!((ground.bumps, surface.roughness()), (None, None));
    let corner = surface.ground_at(Length::ZERO, Length::ZERO).expect("inside");
    assert!((corner.deviation().as_mm() - 2.0).abs() < 1e-9);
    assert_eq!(corner.bumps, Some(Length::ZERO));
    assert!(surface.ground_at(Length::m(3.0), Length::m(3.0)).is_none());
}

/// A plane is not rough. A draughtboard of bumps 10 mm up and 10 mm down on a plane is rough by 10 mm or more and no
/// more than twice that, and the roughness does not change when the pitch is mirrored, tilted or raised.
#[test]
fn law_roughness_is_of_the_bumps_alone() {
    let grid = |bump: f64, mirror: f64, tilt: f64| {
        let points: Vec<PointHeight> = (0..49)
            .map(|i| {
                let (x, y) = (f64::from(i % 7), f64::from(i / 7));
                let up = if (i % 7 + i / 7) % 2 == 0 { bump } else { -bump };
                // A hair off the grid, so that no four corners lie on one circle.
                let off = 0.01 * f64::from((i * 37) % 11);
                point(&format!("{i:02}"), mirror * (x + off), y, 1.0 + tilt * (x + off) + up)
            })
            .collect();
        Surface::over(&points).expect("sound").roughness().expect("25 points inside").as_mm()
    };
    assert!(grid(0.0, 1.0, 0.04) < 1e-6);
    let rough = grid(0.010, 1.0, 0.0);
    assert!((10.0..20.0).contains(&rough), "{rough}");
    assert!((grid(0.010, -1.0, 0.0) - rough).abs() < 1e-6);
    assert!((grid(0.010, 1.0, 0.03) - rough).abs() < 0.01, "corners are rounded on the plan");
}

/// The deviation from the covariance is never more than the sum of the corners' own, which `height_at` gives.
#[test]
fn law_errors_that_hang_together_are_never_more_than_their_sum() {
    let list: Vec<crate::survey::Spot> = scattered(40, 3)
        .into_iter()
        .map(|p| crate::survey::Spot { point: p.name, place: p.place, height: p.height, deviation: None })
        .collect();
    let survey = crate::survey::spots(&list, Length::mm(2.0)).expect("sound");
    let surface = Surface::over_survey(&survey).expect("sound");
    let mut inside = 0;
    for i in 0..200 {
        let (x, y) = (Length::m(f64::from(i % 20) + 0.5), Length::m(f64::from(i / 20) * 0.8 + 0.1));
        if let (Some(ground), Some((height, most))) = (surface.ground_at(x, y), surface.height_at(x, y)) {
            inside += 1;
            assert_eq!(ground.height, height);
            assert!(ground.readings.as_m() <= most.as_m() + 1e-12);
            assert!(ground.deviation() >= ground.readings);
        }
    }
    assert!(inside > 100, "{inside}");
}
