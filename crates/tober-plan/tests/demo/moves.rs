//! Pitches that force a move: what the plan then tells the crew to do.

use crate::books::{planned, plover_hard};

/// The easy pitch read with a staff every metre, with this much lower ground at some points.
fn staffed(low: &[(i64, i64, i64)], without: &[(i64, i64)]) -> String {
    let pitch = plover_hard().pitch;
    let (before, rest) = pitch.split_once("[readings]").expect("readings");
    let (_, after) = rest.split_once("[[ground]]").expect("ground");
    let mut readings = String::from(
        "[readings]\nmethod = \"staff\"\nreading-deviation = \"1 mm\"\nline-of-sight-deviation = \"0.05 mm/m\"\n\
         sight-longest = \"30 m\"\nmeasured = \"2031-05-02\"\nwith = \"level and staff\"\nby = \"Wi\"\n",
    );
    for x in -2..=12 {
        for y in -4..=4 {
            if without.contains(&(x, y)) {
                continue;
            }
            let lower = low.iter().find(|at| (at.0, at.1) == (x, y)).map_or(0, |at| at.2);
            let kind = if (x, y) == (-2, -4) { "back" } else { "between" };
            readings.push_str(&format!(
                "[[readings.reading]]\nset-up = \"A\"\npoint = \"p{}-{}\"\nat = [\"{x} m\", \"{y} m\"]\nkind = \"{kind}\"\n\
                 reading = \"{} mm\"\ndistance = \"10 m\"\n",
                x + 2,
                y + 4,
                1500 + lower
            ));
        }
    }
    format!("{before}{readings}\n[[ground]]{after}")
}

/// A pit under the rear right foot, 0.7 m deep at two points of the survey: the legs and the packing reach 480 mm from
/// their shortest, and the wheels ask for 120 mm of it everywhere. Nothing at the feet helps; the trailer has to go.
#[test]
fn hand_a_pit_under_one_foot_is_cured_by_a_shift() {
    let mut texts = plover_hard();
    texts.pitch = staffed(&[], &[]);
    let flat = planned(&texts).expect("sound books");
    assert!(flat.cures.is_empty() && flat.legs.len() == 6, "flat ground serves: {:?}", flat.cures);
    texts.pitch = staffed(&[(0, -2, 700), (1, -2, 700)], &[]);
    let plan = planned(&texts).expect("sound books");
    assert!(plan.legs.is_empty());
    let has = |start: &str| plan.cures.iter().any(|cure| cure.starts_with(start));
    assert!(has("Shift the trailer") && has("Neither digging in"), "{:#?}", plan.cures);
    assert!(plan.cures.iter().all(|cure| cure.ends_with('.')));
    // The shift that is named serves: the same pitch with the trailer set there has a plan that passes its check.
    let forward = plan.cures.iter().find_map(|cure| {
        let (mm, rest) = cure.strip_prefix("Shift the trailer ")?.split_once(" mm ")?;
        let mm: i64 = mm.parse().ok()?;
        if rest.starts_with("forward") { Some(mm) } else { rest.starts_with("back").then_some(-mm) }
    });
    let by = forward.expect("a shift along");
    let stands = |mm: i64| {
        let mut there = texts.clone();
        there.visit = there.visit.replace("at = [\"0 m\", \"0 m\"]", &format!("at = [\"{mm} mm\", \"0 m\"]"));
        !planned(&there).expect("sound books").legs.is_empty()
    };
    assert!(stands(by), "{by} mm serves");
    // And 50 mm less does not, neither way.
    let less = by.abs() - 50;
    assert!(!stands(less) && !stands(-less), "less than {by} mm does not");
}

/// Off the survey nothing is known: with no ground read beyond the legs no shift is offered that would need it.
#[test]
fn refuse_to_shift_off_the_surveyed_ground() {
    let mut texts = plover_hard();
    let mut rim: Vec<(i64, i64)> = Vec::new();
    for x in -2..=12 {
        for y in -4..=4 {
            if !(0..=9).contains(&x) || !(-3..=3).contains(&y) {
                rim.push((x, y));
            }
        }
    }
    texts.pitch = staffed(&[(0, -2, 700), (1, -2, 700), (2, -2, 700)], &rim[1..]);
    let plan = planned(&texts).expect("sound books");
    assert!(plan.legs.is_empty());
    let along = plan.cures.iter().filter(|cure| cure.contains("mm forward") || cure.contains("mm back"));
    for cure in along {
        assert!(cure.contains("as far as the ground was surveyed"), "{cure}");
    }
    assert!(!plan.cures.is_empty());
}

/// The pit as above with a buried pipe that the rear right foot would stand on after the shift along that was told: that shift is
/// told no more. Where nobody wrote how far to keep from it, what is told says so.
#[test]
fn law_no_move_puts_a_foot_on_what_lies_under_ground() {
    let mut texts = plover_hard();
    texts.pitch = staffed(&[(0, -2, 700), (1, -2, 700)], &[]);
    let along = |cures: &[String]| {
        cures.iter().find_map(|cure| {
            let (mm, rest) = cure.strip_prefix("Shift the trailer ")?.split_once(" mm ")?;
            let mm: f64 = mm.parse().ok()?;
            if rest.starts_with("forward") { Some(mm) } else { rest.starts_with("back").then_some(-mm) }
        })
    };
    let before = planned(&texts).expect("sound books");
    let by = along(&before.cures).expect("a shift along");
    assert!(
        before.cures.iter().any(|cure| cure.contains("clear there of all that the pitch names")),
        "{:#?}",
        before.cures
    );
    // The rear right foot is at (0.6 m, -1.9 m) of the frame; the pipe runs across under where it would be.
    let at = by / 1000.0 + 0.6;
    let pipe = |keep: &str| {
        format!(
            "[[obstacle]]\nname = \"old main\"\nkind = \"buried pipe\"\noutline = [[\"{at} m\", \"-2.6 m\"], [\"{at} m\", \"-1.2 m\"]]\nkeep-away = \"{keep}\"\n\n[[drain]]"
        )
    };
    texts.pitch = texts.pitch.replacen("[[drain]]", &pipe("0.5 m"), 1);
    let after = planned(&texts).expect("sound books");
    let told = along(&after.cures);
    assert_ne!(told, Some(by), "{:#?}", after.cures);
    texts.pitch = texts.pitch.replacen("keep-away = \"0.5 m\"\n\n[[drain]]", "\n[[drain]]", 1);
    let unsure = planned(&texts).expect("sound books");
    let moves = unsure.cures.iter().filter(|cure| cure.starts_with("Shift") || cure.starts_with("Turn"));
    assert!(moves.clone().count() > 0, "{:#?}", unsure.cures);
    assert!(
        moves.into_iter().all(|cure| cure.contains("how far to keep from old main")),
        "{:#?}",
        unsure.cures
    );
}
