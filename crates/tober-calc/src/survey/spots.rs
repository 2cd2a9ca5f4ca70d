//! Heights that a survey instrument, or a surveyor, worked out itself.

use super::{
    BLUNDER_AT, Covariance, Doubt, Method, Place, PointHeight, ReadingName, Residual, Survey, SurveyError,
    Suspect, deviation_of, placed, within,
};
use std::collections::BTreeMap;
use tober_quantity::{Length, Ratio};

/// The most spot heights of one pitch.
const SPOTS_MOST: usize = 2000;

/// A point with its height, as it was given.
#[derive(Clone, Debug, PartialEq)]
pub struct Spot {
    /// The point. One that was measured again stands here twice.
    pub point: String,
    /// Where it is on the plan.
    pub place: Option<Place>,
    /// Its height.
    pub height: Length,
    /// One standard deviation of that height, where the list gives one for each point.
    pub deviation: Option<Length>,
}

/// A survey from spot heights: the mean of each point, which a second measurement checks.
///
/// h = Σh / n; σ = the greatest deviation of its readings over √n. `deviation` stands for those that give none.
/// The heights are taken as free of each other: what they share, the error of the set-up they were taken from,
/// raises or lowers all alike and shifts no plane. Source: the mean of readings; ours.
///
/// # Errors
/// No spots, more than 2,000, one point at two places, or a number that is not one or is out of range.
///
/// # Not covered
/// How the instrument got its heights: nothing of that is in the list.
pub fn spots(list: &[Spot], deviation: Length) -> Result<Survey, SurveyError> {
    deviation_of(deviation, "deviation of a height", "all points")?;
    if list.is_empty() {
        return Err(SurveyError::NoReadings);
    }
    if list.len() > SPOTS_MOST {
        let count = list.len();
        return Err(SurveyError::TooMany { what: "spot heights", count, most: SPOTS_MOST });
    }
    let mut points: BTreeMap<&str, Vec<usize>> = BTreeMap::new();
    for (row, spot) in list.iter().enumerate() {
        within(spot.height, Length::m(-1e4), Length::m(1e4), "height", &spot.point)?;
        if let Some(own) = spot.deviation {
            deviation_of(own, "deviation of a height", &spot.point)?;
        }
        if let Some(place) = spot.place {
            placed(place, &spot.point)?;
        }
        points.entry(&spot.point).or_default().push(row);
    }
    let mut found = Survey {
        heights: Vec::new(),
        residuals: Vec::new(),
        freedom: list.len() - points.len(),
        spread: None,
        deviations_scaled_by: Ratio::one(1.0),
        suspects: Vec::new(),
        unchecked: Vec::new(),
        closure: None,
        method: Method::Spots,
        covariance: Covariance::default(),
        plane: Vec::new(),
    };
    for (name, rows) in &points {
        let places: Vec<Place> = rows.iter().filter_map(|&row| list[row].place).collect();
        if places.iter().any(|place| *place != places[0]) {
            return Err(SurveyError::TwoPlaces { point: (*name).to_owned() });
        }
        let count = rows.len() as f64;
        let mean_m = rows.iter().map(|&row| list[row].height.as_m()).sum::<f64>() / count;
        let single =
            rows.iter().map(|&row| list[row].deviation.unwrap_or(deviation)).fold(Length::ZERO, Length::max);
        let reading = |row: usize| ReadingName {
            set_up: "spot heights".into(),
            point: (*name).to_owned(),
            row: row + 1,
        };
        let redundancy = 1.0 - 1.0 / count;
        let (mut least, mut greatest) = (f64::INFINITY, f64::NEG_INFINITY);
        for &row in rows {
            let height_m = list[row].height.as_m();
            (least, greatest) = (least.min(height_m), greatest.max(height_m));
            let off_m = mean_m - height_m;
            found.residuals.push(Residual {
                reading: reading(row),
                residual: Length::m(off_m),
                redundancy: Ratio::one(redundancy),
                standardised: (rows.len() > 1)
                    .then(|| Ratio::one(off_m / (single.as_m() * redundancy.sqrt()))),
            });
        }
        let range = Length::m(greatest - least);
        let most = single * (BLUNDER_AT * core::f64::consts::SQRT_2);
        if let [row] = rows[..] {
            found.unchecked.push(reading(row));
        } else if range > most {
            let doubt = Doubt::Disagree { range, most };
            found.suspects.extend(rows.last().map(|&row| Suspect { reading: reading(row), doubt }));
        }
        // Measurements that lie further apart than they should make the height worse, never better.
        let shown = if range > most { range } else { single };
        found.heights.push(PointHeight {
            name: (*name).to_owned(),
            place: places.first().copied(),
            height: Length::m(mean_m),
            deviation: shown * (1.0 / count.sqrt()),
            checked: rows.len() > 1,
        });
    }
    let own_m2: Vec<f64> = found.heights.iter().map(|h| h.deviation.as_m() * h.deviation.as_m()).collect();
    found.covariance = Covariance::by(own_m2.len(), |i, j| if i == j { own_m2[i] } else { 0.0 });
    found.residuals.sort_by_key(|residual| residual.reading.row);
    Ok(found)
}

#[cfg(test)]
#[path = "spots_tests.rs"]
mod tests;
