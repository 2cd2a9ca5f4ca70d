//! `tober plan`: a visit, planned and printed.

use crate::files::{self, say};
use crate::{Ended, Shape, pictures, text};
use std::path::Path;
use tober_calc::finding::Standing;
use tober_plan::{Books, Plan};

/// Plans a visit and prints it.
pub fn plan(path: &Path, shape: Shape, drawings: Option<&Path>, png: bool) -> Ended {
    let plan = match planned(path, shape) {
        Ok(plan) => plan,
        Err(ended) => return ended,
    };
    if shape.json {
        files::print(&format!("{}\n", tober_wire::plan::plan(&plan)));
    } else {
        files::print(&text::plan(&plan, shape.working));
    }
    if let Some(folder) = drawings
        && let Err(sentence) = pictures::write(&plan, folder, png)
    {
        files::tell(&sentence);
        return Ended::WrongInput;
    }
    ended(&plan)
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
    match plan.standing {
        Standing::Inside | Standing::Close => Ended::Inside,
        Standing::PastLimit => Ended::PastLimit,
        Standing::NotKnown => Ended::NotKnown,
    }
}
