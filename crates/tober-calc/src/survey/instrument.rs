//! Checks and corrections of a level.

use super::{SurveyError, within};
use tober_quantity::{Length, Slope};

/// How much too much a staff reads because the earth curves and the air bends light.
///
/// h = 0.0673 D², h in metres and D in kilometres; 0.06 mm at 30 m and 0.67 mm at 100 m. The
/// refraction is the usual seventh of the curvature and is only an average by day. Source: surveying
/// texts, reference SV-09 (from memory).
pub fn curvature_and_refraction(distance: Length) -> Length {
    let distance_km = distance.as_m() / 1e3;
    Length::m(0.0673 * distance_km * distance_km)
}

/// Four readings on two pegs: from half-way, and from near the first peg.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TwoPeg {
    /// Half-way between the pegs, staff on the first.
    pub middle_first: Length,
    /// Half-way between the pegs, staff on the second.
    pub middle_second: Length,
    /// Near the first peg, staff on the first.
    pub near_first: Length,
    /// Near the first peg, staff on the second.
    pub near_second: Length,
    /// From one peg to the other.
    pub apart: Length,
}

/// How much the line of sight of a level rises, from a two-peg test.
///
/// With a and b the readings on the two pegs, 1 from the middle and 2 from near the first:
/// the true difference is a₁ − b₁, because equal sights cancel the error, and the line of sight is out by
/// (a₂ − b₂) − (a₁ − b₁) over the distance between the pegs. That number below zero means that the far
/// reading is too great, so the result here, b₂ less its true value over the distance, is the rise of
/// the line. Source: university slides on levelling, reference SV-10.
///
/// # Errors
/// A reading that is not a number or off the staff; pegs nearer than 10 m or further than 200 m apart.
pub fn two_peg(test: &TwoPeg) -> Result<Slope, SurveyError> {
    let readings = [
        (test.middle_first, "first peg, from the middle"),
        (test.middle_second, "second peg, from the middle"),
        (test.near_first, "first peg, from near it"),
        (test.near_second, "second peg, from near the first"),
    ];
    for (reading, at) in readings {
        within(reading, Length::m(-10.0), Length::m(10.0), "staff reading", at)?;
    }
    within(test.apart, Length::m(10.0), Length::m(200.0), "distance between the pegs", "two-peg test")?;
    let out = (test.near_first - test.near_second) - (test.middle_first - test.middle_second);
    Ok(Slope::ratio(-(out / test.apart)))
}

/// How much the plane of a rotating laser leans towards a point, from two readings of one staff on it: the second
/// with the laser turned end for end where it stands.
///
/// The lean adds to the first reading and takes from the second: t = (r₁ − r₂) / 2d; above zero where the plane
/// rose towards the staff the first time. A cone adds to both and does not show. Source: elementary geometry.
///
/// # Errors
/// A reading that is not a number or off the staff; a staff nearer than 5 m or further than 100 m.
pub fn end_for_end(first: Length, turned: Length, distance: Length) -> Result<Slope, SurveyError> {
    for reading in [first, turned] {
        within(reading, Length::m(-10.0), Length::m(10.0), "staff reading", "the laser, end for end")?;
    }
    within(distance, Length::m(5.0), Length::m(100.0), "distance", "the laser, end for end")?;
    Ok(Slope::ratio((first - turned) / (distance * 2.0)))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Surveying texts, reference SV-09: 30 m gives 0.06 mm, 100 m gives 0.67 mm; and in feet
    /// 0.0206 F², F in thousands of feet, which 1,000 ft must agree with to the last figure given.
    #[test]
    fn truth_curvature_and_refraction() {
        assert!((curvature_and_refraction(Length::m(30.0)).as_mm() - 0.06).abs() < 0.005);
        assert!((curvature_and_refraction(Length::m(100.0)).as_mm() - 0.67).abs() < 0.005);
        assert!((curvature_and_refraction(Length::feet(1000.0)).as_ft() - 0.0206).abs() < 0.0001);
    }

    /// Ground 0.300 m higher at the second peg; the line rises 0.1 mm/m; pegs 40 m apart.
    /// From the middle (20 m): 1.500 + 0.002 and 1.200 + 0.002. Near the first: 1.400 and 1.100 + 0.004.
    #[test]
    fn hand_two_peg() {
        let test = TwoPeg {
            middle_first: Length::m(1.502),
            middle_second: Length::m(1.202),
            near_first: Length::m(1.400),
            near_second: Length::m(1.104),
            apart: Length::m(40.0),
        };
        let rise = two_peg(&test).expect("sound readings");
        assert!((rise.as_mm_per_m() - 0.1).abs() < 1e-9, "{rise:?}");
    }

    /// A plane that rises 0.1 mm/m towards a staff at 30 m reads 3 mm too much, and 3 mm too little turned.
    #[test]
    fn hand_a_laser_turned_end_for_end() {
        let (high, low) = (Length::mm(1_203.0), Length::mm(1_197.0));
        let leans = end_for_end(high, low, Length::m(30.0)).expect("sound readings");
        assert!((leans.as_mm_per_m() - 0.1).abs() < 1e-9, "{leans:?}");
        assert!(end_for_end(high, low, Length::m(1.0)).is_err());
    }

    #[test]
    fn refuse_two_pegs_at_one_place() {
        let one = Length::m(1.0);
        let test = TwoPeg {
            middle_first: one,
            middle_second: one,
            near_first: one,
            near_second: one,
            apart: Length::ZERO,
        };
        let said = two_peg(&test).expect_err("no distance").to_string();
        assert!(said.contains("distance between the pegs") && said.ends_with('.'), "{said}");
    }
}
