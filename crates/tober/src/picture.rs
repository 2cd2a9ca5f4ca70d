//! `tober picture`: a step of a visit, drawn.

use crate::files;
use crate::pictures::PNG_SCALE;
use crate::{Ended, Shape, plan};
use std::path::Path;
use tober_book::Ride;
use tober_draw::{StyleSheet, load_strip, png, stage_views, step_picture};
use tober_plan::{Books, LegLoad, Plan, StepShown, loads_after, steps_shown};

/// Draws a step, or every step into a folder.
pub fn picture(path: &Path, step: Option<&str>, out: &Path, shape: Shape, as_png: bool) -> Ended {
    let (books, plan) = match plan::books_and_plan(path, shape) {
        Ok(both) => both,
        Err(ended) => return ended,
    };
    let sources = Books { ride: &books.ride, kit: &books.kit, pitch: &books.pitch, visit: &books.visit };
    let steps = match steps_shown(&books.ride, &books.visit) {
        Ok(steps) if !steps.is_empty() => steps,
        Ok(_) => return wrong("The ride book has no steps; a picture is of one. Write a [[step]]."),
        Err(missing) => return wrong(&format!("Not known: {missing}")),
    };
    let written = match step {
        Some(asked) => one(&books.ride, &plan, &steps, asked, &Out { path: out, as_png }),
        None => all(sources, &plan, &steps, &Out { path: out, as_png }),
    };
    match written {
        Ok(names) => {
            for name in names {
                files::print(&format!("{name}\n"));
            }
            Ended::Inside
        }
        Err(sentence) => wrong(&sentence),
    }
}

/// Where drawings go.
struct Out<'a> {
    path: &'a Path,
    as_png: bool,
}

impl Out<'_> {
    /// Writes a drawing, and as PNG beside it where that is wanted.
    fn put(&self, path: &Path, svg: &str, written: &mut Vec<String>) -> Result<(), String> {
        files::write(path, svg.as_bytes())?;
        written.push(path.display().to_string());
        if self.as_png {
            let path = path.with_extension("png");
            let picture = png(svg, PNG_SCALE).map_err(|error| error.to_string())?;
            files::write(&path, &picture)?;
            written.push(path.display().to_string());
        }
        Ok(())
    }
}

fn wrong(sentence: &str) -> Ended {
    files::tell(sentence);
    Ended::WrongInput
}

/// One step, by its number or its name.
fn one(
    ride: &Ride,
    plan: &Plan,
    steps: &[StepShown<'_>],
    asked: &str,
    out: &Out<'_>,
) -> Result<Vec<String>, String> {
    let is = |shown: &&StepShown<'_>| shown.step.name == asked || asked.parse() == Ok(shown.number);
    let shown = steps.iter().find(is).ok_or_else(|| {
        let last = steps.iter().map(|shown| shown.number).max().unwrap_or(0);
        let near = steps.iter().find(|shown| shown.step.name.contains(asked)).unwrap_or(&steps[0]);
        format!(
            "There is no step \"{asked}\". A step is told by its number, 1 to {last}, or by its name, such as \"{}\".",
            near.step.name
        )
    })?;
    let svg = step_picture(ride, plan, shown, StyleSheet::Embedded).map_err(|error| error.to_string())?;
    let mut written = Vec::new();
    out.put(out.path, &svg, &mut written)?;
    Ok(written)
}

/// Every step, the views of every stage in which it stands on its legs, and the strip of these, into a folder.
fn all(
    books: Books<'_>,
    plan: &Plan,
    steps: &[StepShown<'_>],
    folder: &Out<'_>,
) -> Result<Vec<String>, String> {
    const ALONE: StyleSheet = StyleSheet::Embedded;
    let mut written = Vec::new();
    let mut put = |name: String, svg: Result<String, tober_draw::DrawError>| {
        let svg = svg.map_err(|error| error.to_string())?;
        folder.put(&folder.path.join(name), &svg, &mut written)
    };
    let mut stages: Vec<(&StepShown<'_>, Result<Vec<LegLoad>, String>)> = Vec::new();
    for shown in steps {
        let name: String =
            shown.step.name.chars().map(|c| if c.is_alphanumeric() { c } else { '-' }).collect();
        let number = shown.number;
        put(format!("step-{number:03}-{name}.svg"), step_picture(books.ride, plan, shown, ALONE))?;
        if shown.is_stage(books.ride) {
            let loads = loads_after(books, plan, shown);
            put(
                format!("stage-{number:03}-{name}.svg"),
                stage_views(books.ride, plan, shown, &loads, ALONE),
            )?;
            stages.push((shown, loads));
        }
    }
    put("load-strip.svg".to_owned(), load_strip(plan, &stages, ALONE))?;
    Ok(written)
}
