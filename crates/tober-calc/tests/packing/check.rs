//! A small check of a claimed choice, from the definitions alone and in whole numbers.

use tober_calc::packing::{Choice, Leg, Plane, Problem, Setting};

/// Every condition of the model that a choice breaks, as sentences; none for a choice that holds.
pub fn faults(problem: &Problem, choice: &Choice) -> Vec<String> {
    let mut faults = Vec::new();
    let (mut boards, mut greatest) = (0_i64, i64::MIN);
    for (support, placed) in problem.supports.iter().zip(&choice.supports) {
        let name = &support.name;
        let count: i64 = placed.boards_by_kind.iter().map(|&n| i64::from(n)).sum();
        let stack: i64 = placed
            .boards_by_kind
            .iter()
            .zip(&problem.boards)
            .map(|(&n, b)| i64::from(n) * b.thickness.0)
            .sum::<i64>()
            + placed.wedges.map_or(0, |wedges| wedges.0);
        let extension = match (support.leg, placed.setting) {
            (Leg::Holes { pin_pitch, pin_count, .. }, Setting::Hole(hole)) if hole < pin_count => {
                pin_pitch.0 * i64::from(hole)
            }
            (Leg::Screw { shortest, longest }, Setting::Screw(turned))
                if (0..=(longest - shortest).0).contains(&turned.0) =>
            {
                turned.0
            }
            _ => {
                faults.push(format!("{name}: setting {:?} is not one of the leg.", placed.setting));
                0
            }
        };
        let lift = stack + extension;
        boards += count;
        greatest = greatest.max(lift);
        if placed.lift.0 != lift || placed.packing.0 != stack {
            faults.push(format!("{name}: lift {lift} and stack {stack} are misstated."));
        }
        let fewest = i64::from(problem.min_boards_per_stack);
        if stack > problem.max_stack.0 || !(fewest..=i64::from(problem.max_boards_per_stack)).contains(&count)
        {
            faults.push(format!("{name}: stack of {stack} in {count} boards."));
        }
        if lift < problem.min_lift.0 {
            faults.push(format!("{name}: lift {lift} is short."));
        }
        let seat = i128::from(support.ground.0 + support.leg.shortest().0 + lift);
        let off = ten_thousandths(&choice.plane, support.x_mm, support.y_mm, seat);
        let (off, over) = off;
        if off.abs() > i128::from(problem.planarity_tol.0) * over {
            faults.push(format!("{name}: seat {seat} is {off} / {over} off the plane."));
        }
        let mut laid = vec![0_u32; problem.boards.len()];
        for &kind in &placed.laid {
            laid[kind] += 1;
        }
        if laid != placed.boards_by_kind {
            faults.push(format!("{name}: the order laid {:?} is not the stack.", placed.laid));
        }
    }
    for (kind, board) in problem.boards.iter().enumerate() {
        let used: u32 = choice.supports.iter().map(|placed| placed.boards_by_kind[kind]).sum();
        if used > board.count {
            faults.push(format!("{used} of {} used, {} in stock.", board.name, board.count));
        }
    }
    let (a, b, over) = match choice.plane {
        Plane::Grid { slope_x_001mm_per_m, slope_y_001mm_per_m, .. } => {
            (i128::from(slope_x_001mm_per_m), i128::from(slope_y_001mm_per_m), 10)
        }
        Plane::Exact { slope_x_01mm_per_m, slope_y_01mm_per_m, over, .. } => {
            (slope_x_01mm_per_m, slope_y_01mm_per_m, over)
        }
    };
    if a.abs() > i128::from(problem.level_tol_x.0) * over
        || b.abs() > i128::from(problem.level_tol_y.0) * over
    {
        faults.push(format!("The plane {:?} is steeper than the tolerances.", choice.plane));
    }
    if i64::from(choice.boards) != boards || choice.max_lift.0 != greatest {
        faults.push(format!("{boards} boards and lift {greatest} are misstated."));
    }
    faults
}

/// How far a seat lies above the plane, as a ratio in tenths of a millimetre.
fn ten_thousandths(plane: &Plane, x_mm: i64, y_mm: i64, seat: i128) -> (i128, i128) {
    let (x, y) = (i128::from(x_mm), i128::from(y_mm));
    match *plane {
        Plane::Grid { height_0001mm, slope_x_001mm_per_m, slope_y_001mm_per_m } => {
            let slopes = i128::from(slope_x_001mm_per_m) * x + i128::from(slope_y_001mm_per_m) * y;
            (10_000 * seat - 100 * i128::from(height_0001mm) - slopes, 10_000)
        }
        Plane::Exact { height_01mm, slope_x_01mm_per_m, slope_y_01mm_per_m, over } => {
            let slopes = slope_x_01mm_per_m * x + slope_y_01mm_per_m * y;
            (1000 * over * seat - 1000 * height_01mm - slopes, 1000 * over)
        }
    }
}
