//! `tober calc frame`: a frame of beams on springs that push and do not pull; metres, newtons, pascals, radians.
//!
//! A question holds `nodes` (`id`, `x_m`, `y_m`), `sections` by name (`I_vertical_m4`, `J_m4`), `E_Pa`, `G_Pa`, `elements`
//! (`i`, `j`: nodes; `section`), `supports` (`id`, `node`, `k_N_per_m`, `gap_m`) and `loads` (`node`, `Fz_N` with minus
//! for down, `Mx_Nm`, `My_Nm`). The result holds `reactions_N` and `support_u_m` in the order of the supports, `node_u_m`
//! in that of the nodes, and `lifted` by name; or `"equilibrium": false` where the frame tips.

use super::Worked;
use crate::read::{DoorError, Field, Read};
use serde_json::{Value, json};
use std::collections::BTreeMap;
use tober_book::nearest;
use tober_calc::supports::Spot;
use tober_calc::supports::flexible::{
    Beam, Beams, BeamsError, BeamsSolver, Bent, BentAnswer, Condensed, FootSpring, NodeLoad, bent_stands,
    bent_tips,
};
use tober_quantity::{Force, Length, Moment, Pressure, Quantity, SecondMoment, Stiffness};

/// A question of a frame, read.
pub struct FrameQuestion {
    /// The frame.
    pub beams: Beams,
    /// The names of the supports.
    pub names: Vec<String>,
    /// The node of each support.
    pub supports: Vec<usize>,
    /// The spring of each support.
    pub feet: Vec<FootSpring>,
    /// The loads at the nodes.
    pub loads: Vec<NodeLoad>,
}

/// The nodes or sections that a question names.
struct Named<'a>(BTreeMap<&'a str, usize>, &'static str);

impl<'a> Named<'a> {
    fn add(&mut self, field: &Field<'a>, at: usize) -> Read<()> {
        let name = field.text()?;
        if let Some(before) = self.0.insert(name, at) {
            return Err(field.error(format!(
                "{} {} is called \"{name}\" too. Give each a name of its own.",
                self.1,
                before + 1
            )));
        }
        Ok(())
    }

    fn find(&self, field: &Field<'_>) -> Read<usize> {
        let name = field.text()?;
        self.0.get(name).copied().ok_or_else(|| {
            let known: Vec<&str> = self.0.keys().copied().collect();
            let meant =
                nearest(name, &known).map_or(String::new(), |near| format!(" Did you mean \"{near}\"?"));
            let some: Vec<&str> = known.into_iter().take(12).collect();
            field.error(format!("No {} is called \"{name}\".{meant} There are: {}.", self.1, some.join(", ")))
        })
    }
}

/// Reads a question.
pub(super) fn frame(question: &Field<'_>) -> Read<FrameQuestion> {
    let mut nodes = Vec::new();
    let mut named = Named(BTreeMap::new(), "node");
    for (i, node) in question.get("nodes")?.list()?.iter().enumerate() {
        named.add(&node.get("id")?, i)?;
        let at = |key: &str| node.get(key)?.number().map(Length::m);
        nodes.push(Spot { x: at("x_m")?, y: at("y_m")? });
    }
    let elasticity = Pressure::from_si(question.get("E_Pa")?.number()?);
    let shear_modulus = Pressure::from_si(question.get("G_Pa")?.number()?);
    let sections = question.get("sections")?;
    let mut members = Vec::new();
    for element in question.get("elements")?.list()? {
        let name = element.get("section")?;
        let section = sections.get(name.text()?).map_err(|error| name.error(error.message))?;
        let moment = |key: &str| section.get(key)?.number().map(SecondMoment::from_si);
        members.push(Beam {
            from: named.find(&element.get("i")?)?,
            to: named.find(&element.get("j")?)?,
            elasticity,
            second_moment: moment("I_vertical_m4")?,
            shear_modulus,
            torsion_constant: moment("J_m4")?,
        });
    }
    let (mut names, mut supports, mut feet) = (Vec::new(), Vec::new(), Vec::new());
    for (i, support) in question.get("supports")?.list()?.iter().enumerate() {
        let name = support.maybe("id")?;
        names.push(name.map_or(Ok(format!("{}", i + 1)), |f| f.text().map(str::to_owned))?);
        supports.push(named.find(&support.get("node")?)?);
        feet.push(FootSpring {
            stiffness: Stiffness::n_per_m(support.get("k_N_per_m")?.number()?),
            gap: Length::m(support.get("gap_m")?.number()?),
        });
    }
    let mut loads = Vec::new();
    for load in question.get("loads")?.list()? {
        load.only(&["node", "Fz_N", "Mx_Nm", "My_Nm"])?;
        let number = |key: &str| -> Read<f64> { load.maybe(key)?.map_or(Ok(0.0), |f| f.number()) };
        loads.push(NodeLoad {
            node: named.find(&load.get("node")?)?,
            down: Force::n(-load.get("Fz_N")?.number()?),
            moment_x: Moment::nm(number("Mx_Nm")?),
            moment_y: Moment::nm(number("My_Nm")?),
        });
    }
    Ok(FrameQuestion { beams: Beams { nodes, members }, names, supports, feet, loads })
}

/// The refusal at the field that it is about.
fn refused(question: &Field<'_>, error: &BeamsError) -> DoorError {
    let (key, at) = match *error {
        BeamsError::TooMany { what: "nodes", .. } => ("nodes", None),
        BeamsError::TooMany { what: "members", .. } => ("elements", None),
        BeamsError::TooMany { .. } | BeamsError::TooFewSupports { .. } | BeamsError::SupportsOnOneLine => {
            ("supports", None)
        }
        BeamsError::SupportsAtOneNode { second, .. } => ("supports", Some(second)),
        BeamsError::NodeOutOfRange { node, .. }
        | BeamsError::NotConnected { node }
        | BeamsError::Mechanism { node, .. } => ("nodes", Some(node)),
        BeamsError::MemberOutOfRange { member, .. } | BeamsError::MemberWithoutLength { member, .. } => {
            ("elements", Some(member))
        }
        BeamsError::LoadOutOfRange { load, .. } => ("loads", Some(load)),
        BeamsError::UnknownNode { .. } | BeamsError::TooFar { .. } => {
            return question.error(error.to_string());
        }
    };
    let field = question.get(key).and_then(|list| match at {
        None => Ok(list),
        Some(at) => Ok(list.list()?.into_iter().nth(at).unwrap_or(list)),
    });
    match field {
        Ok(field) => field.error(error.to_string()),
        Err(error) => error,
    }
}

/// Works one question of a frame of beams.
pub(super) fn work(question: &Field<'_>) -> Result<Worked, DoorError> {
    let FrameQuestion { beams, names, supports, feet, loads } = frame(question)?;
    let refuse = |error: BeamsError| refused(question, &error);
    let condensed = Condensed::new(&beams, &supports).map_err(refuse)?;
    let column = condensed.column(&loads).map_err(refuse)?;
    let mut solver = BeamsSolver::new();
    let answer = solver.solve(&condensed, &feet, &column);
    let (result, finding) = match answer.map_err(|error| question.error(error.to_string()))? {
        BentAnswer::Tips(tips) => {
            let margin = tips.margin.as_m();
            (
                json!({ "equilibrium": false, "resultant_margin_inside_hull_m": margin }),
                bent_tips(&names, &condensed, &loads, &tips),
            )
        }
        BentAnswer::Stands(bent) => {
            (standing(bent, &names, &supports), bent_stands(&names, &condensed, &feet, &loads, bent))
        }
    };
    Ok(Worked { result, findings: vec![finding], working: Vec::new() })
}

fn standing(bent: &Bent, names: &[String], supports: &[usize]) -> Value {
    let up = |node: usize| bent.nodes[node].up.as_m();
    json!({
        "source": "grillage condensed to its supports, springs that only push by Newton with line search",
        "equilibrium": true,
        "displacement_unique": bent.plane.unique,
        "reactions_N": bent.reactions.iter().map(|r| r.as_n()).collect::<Vec<f64>>(),
        "lifted": bent.lifted.iter().map(|&i| &names[i]).collect::<Vec<&String>>(),
        "support_u_m": supports.iter().map(|&node| up(node)).collect::<Vec<f64>>(),
        "node_u_m": (0..bent.nodes.len()).map(up).collect::<Vec<f64>>(),
        "resultant_margin_inside_hull_m": bent.margin.as_m(),
    })
}
