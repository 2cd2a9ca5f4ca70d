//! `tober plan`: a visit, planned and printed.

use crate::files::{self, say};
use crate::{Ended, Shape, pictures, text};
use std::path::Path;
use tober_calc::finding::Standing;
use tober_plan::{Books, EveryOrder, LiftBooks, LiftOfStep, Plan, standing_of};

/// Plans a visit and prints it.
pub fn plan(path: &Path, shape: Shape, drawings: Option<&Path>, png: bool) -> Ended {
    let (books, plan) = match books_and_plan(path, shape) {
        Ok(both) => both,
        Err(ended) => return ended,
    };
    let every = tober_plan::every_order(&books.ride, &books.visit);
    let lifts = tober_plan::lifts(LiftBooks {
        ride: &books.ride,
        kit: Some(&books.kit),
        pitch: Some(&books.pitch),
        visit: Some(&books.visit),
    });
    if shape.json {
        let mut value = tober_wire::plan::plan(&plan);
        if let (Some(object), Some(every)) = (value.as_object_mut(), &every) {
            object.insert("every_order".to_owned(), tober_wire::steps::every_order(every, plan.units));
        }
        if let (Some(object), false) = (value.as_object_mut(), lifts.is_empty()) {
            object.insert("lifts".to_owned(), tober_wire::steps::lifts(&lifts, plan.units));
        }
        files::print(&format!("{value}\n"));
    } else {
        files::print_in(plan.units, plan.words, &text::plan(&plan, shape.working));
        if let Some(every) = &every {
            files::print_in(plan.units, plan.words, &text::every_order(every, plan.units, shape.working));
        }
        files::print_in(plan.units, plan.words, &text::lifts(&lifts, plan.units, shape.working));
    }
    if let Some(folder) = drawings
        && let Err(sentence) = pictures::write(&plan, folder, png)
    {
        files::tell(&sentence);
        return Ended::WrongInput;
    }
    of_everything(&plan, every.as_ref(), &lifts)
}

/// How a plan, its steps and its lifts end the command.
pub fn of_everything(plan: &Plan, every: Option<&EveryOrder>, lifts: &[LiftOfStep]) -> Ended {
    let of_lifts = lifts.iter().map(|lift| of(standing_of(lift))).fold(Ended::Inside, Ended::worse);
    ended(plan).worse(every.map_or(Ended::Inside, of_steps)).worse(of_lifts)
}

/// How the steps end the command.
fn of_steps(every: &EveryOrder) -> Ended {
    let refuted = every.proofs.refuted().next().map(|_| Ended::PastLimit);
    let open = every.proofs.not_known().next().map(|_| Ended::NotKnown);
    let riders = every.riders_off.iter().flat_map(|riders| &riders.findings);
    let findings = every.findings.iter().chain(riders).map(|finding| of(finding.standing));
    findings.chain(refuted).chain(open).fold(Ended::Inside, Ended::worse)
}

/// The plan of a visit in the units and words asked for.
pub fn planned(path: &Path, shape: Shape) -> Result<Plan, Ended> {
    books_and_plan(path, shape).map(|(_, plan)| plan)
}

/// The books of a visit, and its plan.
pub fn books_and_plan(path: &Path, shape: Shape) -> Result<(files::Books, Plan), Ended> {
    let books = files::visit(path).map_err(|wrong| say(&wrong))?;
    let mut plan = tober_plan::plan(Books {
        ride: &books.ride,
        kit: &books.kit,
        pitch: &books.pitch,
        visit: &books.visit,
    });
    plan.units = shape.units.unwrap_or(plan.units);
    plan.words = shape.words.unwrap_or(plan.words);
    Ok((books, plan))
}

/// How a plan ends the command.
pub fn ended(plan: &Plan) -> Ended {
    of(plan.standing)
}

/// How a standing ends the command.
pub fn of(standing: Standing) -> Ended {
    match standing {
        Standing::Inside | Standing::Close => Ended::Inside,
        Standing::PastLimit => Ended::PastLimit,
        Standing::NotKnown => Ended::NotKnown,
    }
}
