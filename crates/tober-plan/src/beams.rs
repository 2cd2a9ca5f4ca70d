//! The frame of a ride book as beams, with what stands under it and bears on it.

use tober_book::{Ride, StiffnessModel};
use tober_calc::supports::flexible::{Beam, Beams, BeamsError, Condensed, attach};
use tober_calc::supports::{Bearing, Place, Spot, Weight};
use tober_quantity::{Length, Pressure, SecondMoment};

/// A leg farther from every beam than this stands under none.
const LEG_OFF_BEAM_MM: f64 = 5.0;
/// A body bears on the nearest beam, however far its centre of gravity is beside it.
const BODY_OFF_BEAM_M: f64 = 1000.0;

/// Whether the book wants its frame to bend. One that tells of members and does not say is taken so: to leave a word out
/// must not make the frame stiffer.
fn bends(ride: &Ride) -> bool {
    match ride.frame.stiffness {
        Some(model) => model == StiffnessModel::Beams,
        None => !ride.frame.members.is_empty(),
    }
}

/// The frame with legs at these places and weights on it; none where the frame is rigid.
///
/// A leg stands under a node, or under a beam, which is parted there. A weight bears on the beam point nearest to its centre
/// of gravity, with the couple that its distance makes; couples bear where what turns does, or else the heaviest weight.
pub(crate) fn bearing(
    ride: &Ride,
    legs: &[(&str, Spot)],
    weights: &[Weight],
) -> Result<Option<Bearing>, String> {
    if !bends(ride) {
        return Ok(None);
    }
    let mut beams = beams(ride)?;
    let mut feet = Vec::with_capacity(legs.len());
    for (i, (name, spot)) in legs.iter().enumerate() {
        let at = attach(&mut beams, *spot, Length::mm(LEG_OFF_BEAM_MM), "Leg", i);
        let at = at.map_err(|_| {
            format!(
                "How the frame reaches \"{name}\": no beam is over it. Give `[[frame.node]]` at the leg and a \
                 `[[frame.member]]` to it."
            )
        })?;
        feet.push(at.node);
    }
    let mut burdens = Vec::with_capacity(weights.len());
    let mut couples_at = (feet.first().copied().unwrap_or(0), -1.0, false);
    for (i, weight) in weights.iter().enumerate() {
        let (spot, heavy) = match weight.burden.place {
            Place::At(spot) => (spot, weight.burden.down.high.as_n()),
            Place::Unknown => (legs.first().map_or(Spot { x: Length::ZERO, y: Length::ZERO }, |l| l.1), -1.0),
        };
        let node = attach(&mut beams, spot, Length::m(BODY_OFF_BEAM_M), "Weight", i);
        let node = node.map_err(|error| error.to_string())?.node;
        burdens.push((spot, node));
        let turns = weight.name == crate::loads::WHAT_TURNS;
        if (turns && !couples_at.2) || (turns == couples_at.2 && heavy > couples_at.1) {
            couples_at = (node, heavy, turns);
        }
    }
    let told = |error: BeamsError| {
        let node = match error {
            BeamsError::NotConnected { node } | BeamsError::Mechanism { node, .. } => {
                ride.frame.nodes.get(node)
            }
            _ => None,
        };
        let named = node.map_or(String::new(), |node| format!(" That node is \"{}\".", node.name));
        format!("The frame as beams. {error}{named}")
    };
    let frame = Condensed::new(&beams, &feet).map_err(told)?;
    Bearing::new(frame, &burdens, couples_at.0).map(Some).map_err(told)
}

fn beams(ride: &Ride) -> Result<Beams, String> {
    let frame = &ride.frame;
    let nodes = frame.nodes.iter().map(|node| Spot { x: node.at.along, y: node.at.across }).collect();
    let place = |name: &str| frame.nodes.iter().position(|node| node.name == name);
    let mut members = Vec::with_capacity(frame.members.len());
    for member in &frame.members {
        let (Some(from), Some(to)) = (place(&member.from), place(&member.to)) else {
            return Err(format!("The nodes of the member from \"{}\" to \"{}\".", member.from, member.to));
        };
        let twist: Option<(Pressure, SecondMoment)> = member.shear_modulus.zip(member.torsion_constant);
        let Some((shear_modulus, torsion_constant)) = twist else {
            return Err(format!(
                "How the member from \"{}\" to \"{}\" twists: `shear-modulus` and `torsion-constant`.",
                member.from, member.to
            ));
        };
        members.push(Beam {
            from,
            to,
            elasticity: member.elasticity,
            second_moment: member.second_moment,
            shear_modulus,
            torsion_constant,
        });
    }
    Ok(Beams { nodes, members })
}
