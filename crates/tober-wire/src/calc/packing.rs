//! `tober calc packing`: whole numbers, lengths in tenths of a millimetre, places in millimetres.

use super::Worked;
use crate::read::{DoorError, Field, Read};
use serde_json::{Value, json};
use tober_calc::packing::{
    Answer, BoardKind, Budget, Choice, Leg, Means, Plane, Problem, Remedy, Setting, StackRules, Support,
    TenthMmPerM, WhyNot, findings, solve, why_not,
};
use tober_quantity::TenthMm;

/// Wide enough for any pitch and narrow enough that no sum of them overflows.
const MOST: i64 = 1_000_000_000;

pub(super) fn tenths(field: &Field<'_>) -> Read<TenthMm> {
    field.whole(-MOST, MOST).map(TenthMm)
}

fn count(field: &Field<'_>) -> Read<u32> {
    let whole = field.whole(0, MOST)?;
    u32::try_from(whole).map_err(|_| field.error("a count is wanted."))
}

fn text_or(field: &Field<'_>, key: &str, i: usize) -> Read<String> {
    field.maybe(key)?.map_or(Ok(format!("{}", i + 1)), |f| f.text().map(str::to_owned))
}

pub(super) fn problem(question: &Field<'_>) -> Read<Problem> {
    let get = |key: &str| question.get(key);
    let support = |(i, s): (usize, Field<'_>)| -> Read<Support> {
        let leg = Leg::Holes {
            pin_first: tenths(&s.get("pin_first_01mm")?)?,
            pin_pitch: tenths(&s.get("pin_pitch_01mm")?)?,
            pin_count: count(&s.get("pin_count")?)?,
        };
        let (x, y) = (s.get("x_mm")?.whole(-MOST, MOST)?, s.get("y_mm")?.whole(-MOST, MOST)?);
        Ok(Support::plain(text_or(&s, "id", i)?, x, y, tenths(&s.get("ground_01mm")?)?, leg))
    };
    let board = |(i, b): (usize, Field<'_>)| -> Read<BoardKind> {
        let thickness = tenths(&b.get("thickness_01mm")?)?;
        Ok(BoardKind::plain(text_or(&b, "id", i)?, thickness, count(&b.get("count")?)?))
    };
    Ok(Problem {
        supports: get("supports")?.list()?.into_iter().enumerate().map(support).collect::<Read<_>>()?,
        boards: get("boards")?.list()?.into_iter().enumerate().map(board).collect::<Read<_>>()?,
        max_stack: tenths(&get("max_stack_01mm")?)?,
        min_boards_per_stack: count(&get("min_boards_per_stack")?)?,
        max_boards_per_stack: count(&get("max_boards_per_stack")?)?,
        min_lift: tenths(&get("min_lift_01mm")?)?,
        level_tol_x: TenthMmPerM(get("level_tol_x_01mm_per_m")?.whole(-MOST, MOST)?),
        level_tol_y: TenthMmPerM(get("level_tol_y_01mm_per_m")?.whole(-MOST, MOST)?),
        planarity_tol: tenths(&get("planarity_tol_01mm")?)?,
        clearances: Vec::new(),
        rules: StackRules::plain(),
    })
}

/// Works one packing question.
pub(super) fn work(question: &Field<'_>) -> Result<Worked, DoorError> {
    let problem = problem(question)?;
    let answer = solve(&problem, &Budget::usual()).map_err(|error| question.error(error.to_string()))?;
    let result = match &answer {
        Answer::Optimal(choice) => chosen(choice, "optimal", None),
        Answer::BestFound { choice, lift_no_less_than, boards_no_less_than } => {
            let bounds = json!({
                "max_lift_01mm_no_less_than": lift_no_less_than.0,
                "boards_no_less_than": boards_no_less_than,
            });
            chosen(choice, "best-found", Some(bounds))
        }
        Answer::Infeasible(_) => {
            let (cures, undecided) = cures(&problem);
            json!({ "feasible": false, "proof": "infeasible", "cures": cures, "cures_undecided": undecided })
        }
        Answer::NotReached { lift_no_less_than } => json!({
            "feasible": Value::Null,
            "proof": "not-reached",
            "max_lift_01mm_no_less_than": lift_no_less_than.0,
        }),
    };
    Ok(Worked { result, findings: findings(&problem, &answer, None), working: Vec::new() })
}

/// How much work each question on the way to a cure may cost, in nodes of the search.
const CURE_NODES: u64 = 20_000;

/// What a crew could do where nothing serves, the least of each remedy alone; and how many remedies were neither
/// proved nor ruled out. An empty list with none undecided is proved: do not build here.
fn cures(problem: &Problem) -> (Value, usize) {
    let budget = Budget { nodes: CURE_NODES, tidying: 0 };
    let (cures, undecided) = match why_not(problem, &Means::usual(), &budget) {
        Ok(WhyNot::Cures { cures, undecided }) => (cures, undecided),
        Ok(WhyNot::NotReached { undecided }) => (Vec::new(), undecided),
        Ok(WhyNot::DoNotBuildHere | WhyNot::Serves) | Err(_) => (Vec::new(), 0),
    };
    let written = cures.iter().map(|cure| {
        let mut object = remedy(problem, &cure.remedy);
        if let Some(object) = object.as_object_mut() {
            object.insert("sentence".into(), cure.sentence(problem).into());
            object.insert("choice".into(), chosen(&cure.choice, "with the cure", None)["choice"].clone());
        }
        object
    });
    (written.collect(), undecided)
}

fn remedy(problem: &Problem, remedy_of: &Remedy) -> Value {
    let support = |place: usize| problem.supports[place].name.clone();
    match remedy_of {
        Remedy::MoreBoards { kind, more } => json!({
            "remedy": "more boards", "kind": problem.boards[*kind].name, "more": more,
        }),
        Remedy::DigIn { feet, .. } => json!({
            "remedy": "dig in",
            "feet": feet.iter().map(|(place, depth)| json!({
                "support": support(*place), "depth_01mm": depth.0,
            })).collect::<Value>(),
        }),
        Remedy::Wedges { supports, .. } => json!({
            "remedy": "wedges", "supports": supports.iter().map(|place| support(*place)).collect::<Value>(),
        }),
        Remedy::Packers { packer, sheets } => json!({
            "remedy": "thin packers", "packer": packer.name, "sheets": sheets,
        }),
        Remedy::Together(one, other) => json!({
            "remedy": "together", "both": [remedy(problem, one), remedy(problem, other)],
        }),
    }
}

pub(super) fn chosen(choice: &Choice, proof: &str, bounds: Option<Value>) -> Value {
    let holes: Value = choice
        .supports
        .iter()
        .map(|placed| match placed.setting {
            Setting::Hole(hole) => Value::from(hole),
            Setting::Screw(extension) => json!({ "screw_01mm": extension.0 }),
        })
        .collect();
    let boards: Value =
        choice.supports.iter().map(|placed| Value::from(placed.boards_by_kind.clone())).collect();
    let mut result = json!({
        "feasible": true,
        "max_lift_01mm": choice.max_lift.0,
        "boards": choice.boards,
        "proof": proof,
        "choice": { "pin_index": holes, "boards_by_kind": boards, "plane": plane(choice.plane) },
    });
    if let (Some(bounds), Some(object)) = (bounds, result.as_object_mut()) {
        object.insert("bounds".into(), bounds);
    }
    result
}

fn plane(plane: Plane) -> Value {
    match plane {
        Plane::Grid { height_0001mm, slope_x_001mm_per_m, slope_y_001mm_per_m } => json!({
            "C_0001mm": height_0001mm,
            "a_001mm_per_m": slope_x_001mm_per_m,
            "b_001mm_per_m": slope_y_001mm_per_m,
        }),
        // Off the grid of whole numbers: exact ratios, written out, each over `over`.
        Plane::Exact { height_01mm, slope_x_01mm_per_m, slope_y_01mm_per_m, over } => json!({
            "c_01mm": height_01mm.to_string(),
            "a_01mm_per_m": slope_x_01mm_per_m.to_string(),
            "b_01mm_per_m": slope_y_01mm_per_m.to_string(),
            "over": over.to_string(),
        }),
    }
}
