//! The lifts of both demo rides: what is found, that every line adds up, that knowing less never helps, and what bites.
#![cfg(feature = "command")]

use std::collections::BTreeMap;
use tober_book::{Source, parse_kit, parse_pitch, parse_ride, parse_visit};
use tober_calc::finding::{Finding, Standing};
use tober_fit::working::check_line;
use tober_plan::{LiftBooks, LiftOfStep, lifts, standing_of};
use tober_quantity::UnitSet;

#[derive(Clone)]
struct Texts {
    ride: String,
    kit: String,
    pitch: String,
    visit: String,
}

macro_rules! demo {
    ($ride:literal, $visit:literal) => {
        Texts {
            ride: include_str!(concat!("../../../../demo/", $ride, "/ride.toml")).to_owned(),
            kit: include_str!(concat!("../../../../demo/", $ride, "/kit.toml")).to_owned(),
            pitch: include_str!(concat!("../../../../demo/", $ride, "/", $visit, "/pitch.toml")).to_owned(),
            visit: include_str!(concat!("../../../../demo/", $ride, "/", $visit, "/visit.toml")).to_owned(),
        }
    };
}

fn both() -> [Texts; 2] {
    [demo!("lantern", "plover-hard"), demo!("osier", "sallow-green")]
}

/// The lifts of a visit; nothing where a file is refused.
fn worked(texts: &Texts) -> Option<Vec<LiftOfStep>> {
    let ride = parse_ride(&Source::new("ride.toml", &texts.ride)).into_result().ok()?;
    let kit = parse_kit(&Source::new("kit.toml", &texts.kit)).into_result().ok()?;
    let pitch = parse_pitch(&Source::new("pitch.toml", &texts.pitch)).into_result().ok()?;
    let visit = parse_visit(&Source::new("visit.toml", &texts.visit)).into_result().ok()?;
    Some(lifts(LiftBooks { ride: &ride, kit: Some(&kit), pitch: Some(&pitch), visit: Some(&visit) }))
}

fn of<'a>(all: &'a [LiftOfStep], step: &str, code: &str) -> &'a Finding {
    let lift = all.iter().find(|lift| lift.step == step).expect("such a step");
    lift.findings.iter().find(|finding| finding.code == code).expect("such a finding")
}

#[test]
fn regress_every_lift_of_the_demo_is_inside_and_passes_the_other_check() {
    let mut count = (0, 0);
    for texts in both() {
        for lift in worked(&texts).expect("the demo is sound") {
            for finding in &lift.findings {
                assert!(finding.standing <= Standing::Close, "{}: {finding:#?}", lift.step);
            }
            let fit = lift.findings.iter().filter(|finding| finding.code == "lift.fit").count();
            assert_eq!(fit, 1, "{}", lift.step);
            let gust = lift.findings.iter().filter(|finding| finding.code == "lift.gust").count();
            assert_eq!(gust, usize::from(lift.by_winch), "{}", lift.step);
            count = (count.0 + i32::from(lift.by_winch), count.1 + i32::from(!lift.by_winch));
        }
    }
    assert_eq!(count.0, 14, "by winch, up and down");
    assert!(count.1 > 20, "by hand: {}", count.1);
}

/// The mast of the lantern ride: 620 kg and 3 %, 1.1 m before its hinge; eye at (2, -0.1), sheave at (-2.1, 1.3) from it. Level:
/// lever (2.0 x 1.3 - 0.1 x 2.1) / sqrt(4.1^2 + 1.4^2) = 2.39 / 4.3324 = 0.55166 m, line 638.6 x 1.1 / 0.55166 = 1273.4 kg, rope at two
/// falls of 0.96: 1273.4 / 1.8816 = 676.7 kg. Rope of 8 mm, 25 m on a drum of 110 by 160 mm: 20 turns take 7.41, 8.42, 9.42 m, so the third
/// layer: 9 kN x 118 / 150 = 7.08 kN.
#[test]
fn hand_mast_of_the_lantern_ride() {
    use tober_calc::finding::Measure;
    let all = worked(&both()[0]).expect("the demo is sound");
    let Measure::AgainstLimit { low, high, limit, .. } = of(&all, "raise mast", "lift.pull").measure else {
        panic!("a figure");
    };
    assert!((high.si - 676.7).abs() < 0.1, "{high:?}");
    assert!((low.si - 676.7 * 0.97 / 1.03).abs() < 0.1, "{low:?}");
    assert!((limit.si - 7080.0 / 9.80665).abs() < 0.1, "{limit:?}");
}

/// The mast down again: the same places gone the other way, with its centre of gravity as the book has it upright, (0.2, 1.1 +- 0.05 up) from the
/// hinge. Turned back to level that lies 1.1 + 0.05 m along: 638.6 x 1.15 / 0.55166 = 1331.2 kg, at two falls of 0.96 hoisting 1331.2 / 1.8816 = 707.5 kg,
/// and running out 1331.2 / (1 / 0.96 + 1 / 0.9216) = 625.9 kg.
#[test]
fn hand_mast_of_the_lantern_ride_on_its_way_down() {
    use tober_calc::finding::Measure;
    let all = worked(&both()[0]).expect("the demo is sound");
    for (code, expected) in [("lift.pull", 707.5), ("lift.lower", 625.9)] {
        let Measure::AgainstLimit { high, .. } = of(&all, "lower mast", code).measure else {
            panic!("a figure");
        };
        assert!((high.si - expected).abs() < 0.2, "{code}: {high:?}");
    }
    let lift = all.iter().find(|lift| lift.step == "lower mast").expect("such a step");
    assert_eq!(lift.takes_back.as_deref(), Some("raise mast"));
    assert_eq!(of(&all, "lower mast", "lift.people").standing, Standing::Inside);
    assert_eq!(of(&all, "lower mast", "lift.wind").standing, Standing::Inside);
}

/// A lift by hand that is taken back is the same with its heights changed over, and a lift that the step tells itself stands as it is.
#[test]
fn law_a_hand_lift_taken_back_is_the_lift_with_its_heights_changed_over() {
    let mut texts = both()[0].clone();
    let told = worked(&texts).expect("the demo is sound");
    let lines: Vec<&str> = texts.ride.lines().collect();
    let step = lines.iter().position(|line| *line == "name = \"cars CGAE off\"").expect("such a step");
    let own = (step..lines.len()).find(|at| lines[*at].starts_with("lift = ")).expect("its lift");
    texts.ride = [&lines[..own], &lines[own + 1..]].concat().join("\n");
    let derived = worked(&texts).expect("still sound");
    let lift = derived.iter().find(|lift| lift.step == "cars CGAE off").expect("it takes them back");
    assert_eq!(lift.takes_back.as_deref(), Some("cars CG"));
    let same = told.iter().find(|lift| lift.step == "cars CGAE off").expect("told there");
    assert_eq!(lift.findings, same.findings);
}

/// `text` with one line's `key = value` inside a `{ ... }` of `lift` taken out, each in turn.
fn without_one_key_of_a_lift(text: &str) -> Vec<(String, String)> {
    let mut out = Vec::new();
    let lines: Vec<&str> = text.lines().collect();
    for (at, line) in lines.iter().enumerate() {
        let Some(inside) = line.strip_prefix("lift = { ").and_then(|line| line.strip_suffix(" }")) else {
            continue;
        };
        // Pairs are parted by commas that stand in no list and no string.
        let mut pairs = vec![String::new()];
        let (mut depth, mut quoted) = (0, false);
        for letter in inside.chars() {
            match letter {
                '"' => quoted = !quoted,
                '[' => depth += 1,
                ']' => depth -= 1,
                _ => {}
            }
            if letter == ',' && depth == 0 && !quoted {
                pairs.push(String::new());
            } else if let Some(last) = pairs.last_mut() {
                last.push(letter);
            }
        }
        for gone in 0..pairs.len() {
            let kept: Vec<&str> = (0..pairs.len()).filter(|i| *i != gone).map(|i| pairs[i].trim()).collect();
            let mut changed: Vec<String> = lines.iter().map(|line| (*line).to_owned()).collect();
            changed[at] = format!("lift = {{ {} }}", kept.join(", "));
            out.push((format!("line {}, {}", at + 1, pairs[gone].trim()), changed.join("\n")));
        }
    }
    out
}

/// `text` without one of the lines that begin with these keys, each in turn.
fn without_one_line(text: &str, keys: &[&str]) -> Vec<(String, String)> {
    let lines: Vec<&str> = text.lines().collect();
    let begins = |line: &str| keys.iter().any(|key| line.starts_with(&format!("{key} = ")));
    let each = lines.iter().enumerate().filter(|(_, line)| begins(line));
    each.map(|(gone, line)| {
        let kept: Vec<&str> =
            lines.iter().enumerate().filter(|(at, _)| *at != gone).map(|(_, line)| *line).collect();
        (format!("line {}, {line}", gone + 1), kept.join("\n"))
    })
    .collect()
}

/// What is good of one and was worse of another in which more was known.
fn better(known: &[LiftOfStep], less: &[LiftOfStep]) -> Vec<String> {
    let mut worst: BTreeMap<(&str, &str), (Standing, u32)> = BTreeMap::new();
    for lift in known {
        for finding in &lift.findings {
            worst.insert((&lift.step, finding.code), (finding.standing, finding.share().unwrap_or(0)));
        }
    }
    let mut found = Vec::new();
    for lift in less {
        for finding in lift.findings.iter().filter(|finding| finding.standing <= Standing::Close) {
            match worst.get(&(lift.step.as_str(), finding.code)) {
                None => found.push(format!("{} of {} was not there", finding.code, lift.step)),
                Some((standing, share)) => {
                    let now = finding.share().unwrap_or(0);
                    if finding.standing < *standing || now < *share {
                        found.push(format!("{} of {}: {share} % and {now} %", finding.code, lift.step));
                    }
                }
            }
        }
    }
    found
}

#[test]
fn law_leaving_out_a_key_improves_no_lift() {
    let mut tried = 0;
    for texts in both() {
        let known = worked(&texts).expect("the demo is sound");
        let of_steps = [
            "people",
            "wind-limit",
            "carried-by",
            "wind-in-service",
            "undoes",
            "rests-on",
            "wind",
            "greatest-lift",
        ];
        let of_winch = [
            "lifting-rating",
            "pulling-rating",
            "examined",
            "rope-diameter",
            "rope-length",
            "drum-diameter",
            "drum-width",
            "crank",
            "gear-ratio",
            "efficiency",
        ];
        let ride = |(what, ride)| (what, Texts { ride, ..texts.clone() });
        let kit = |(what, kit)| (what, Texts { kit, ..texts.clone() });
        let visit = |(what, visit)| (what, Texts { visit, ..texts.clone() });
        let all = without_one_key_of_a_lift(&texts.ride)
            .into_iter()
            .chain(without_one_line(&texts.ride, &of_steps))
            .map(ride)
            .chain(without_one_line(&texts.kit, &of_winch).into_iter().map(kit))
            .chain(without_one_line(&texts.visit, &["from", "until"]).into_iter().map(visit));
        for (what, less) in all {
            let Some(found) = worked(&less) else { continue };
            let better = better(&known, &found);
            assert!(better.is_empty(), "without {what}: {better:?}");
            tried += 1;
        }
    }
    assert!(tried > 250, "only {tried} books were tried");
}

#[test]
fn law_widening_a_tolerance_improves_no_lift() {
    let mut tried = 0;
    for texts in both() {
        let known = worked(&texts).expect("the demo is sound");
        for (at, _) in texts.ride.match_indices("± ") {
            let rest = &texts.ride[at + "± ".len()..];
            let end = rest.find(|c: char| !(c.is_ascii_digit() || c == '.')).unwrap_or(rest.len());
            let Ok(value) = rest[..end].parse::<f64>() else { continue };
            let wider = format!("{}± {}{}", &texts.ride[..at], value * 3.0, &rest[end..]);
            let Some(found) = worked(&Texts { ride: wider, ..texts.clone() }) else { continue };
            let better = better(&known, &found);
            assert!(better.is_empty(), "wider at byte {at}: {better:?}");
            tried += 1;
        }
    }
    assert!(tried > 50, "only {tried} tolerances were widened");
}

#[test]
fn law_every_printed_line_of_a_lift_works_out() {
    let mut lines = 0;
    for texts in both() {
        for lift in worked(&texts).expect("the demo is sound") {
            for finding in &lift.findings {
                for units in UnitSet::ALL {
                    for line in finding.working.print(units).iter().filter(|line| !line.numbers.is_empty()) {
                        let said = check_line(&line.numbers, &line.result);
                        assert!(said.is_ok(), "{} of {}: {line:?} {said:?}", finding.code, lift.step);
                        lines += 1;
                    }
                }
            }
        }
    }
    assert!(lines > 500, "only {lines} lines were there");
}

/// One change of a text of the demo, once where it is first met, and how a finding of a step then stands.
fn changed(ride: usize, what: fn(&mut Texts) -> &mut String, from: &str, to: &str) -> Vec<LiftOfStep> {
    let mut texts = both()[ride].clone();
    let text = what(&mut texts);
    assert!(text.contains(from), "{from} is there");
    *text = text.replacen(from, to, 1);
    worked(&texts).expect("still a sound book")
}

#[test]
fn hand_what_bites() {
    let ride: fn(&mut Texts) -> &mut String = |texts| &mut texts.ride;
    let kit: fn(&mut Texts) -> &mut String = |texts| &mut texts.kit;
    // One person where two are wanted.
    let all = changed(0, ride, "mass = \"20 kg\", people = 2", "mass = \"20 kg\", people = 1");
    assert_eq!(of(&all, "cars AE", "lift.people").standing, Standing::PastLimit);
    assert_eq!(of(&all, "cars AE", "lift.hand").standing, Standing::PastLimit);
    // A winch that was examined too long ago, in the days to come, or that only pulls.
    let all = changed(0, kit, "examined = \"2031-01-20\"", "examined = \"2030-05-01\"");
    let days = of(&all, "raise mast", "lift.examined");
    assert!(days.standing == Standing::PastLimit && days.share() > Some(100), "{days:?}");
    let all = changed(0, kit, "examined = \"2031-01-20\"", "examined = \"2032-01-20\"");
    assert_eq!(of(&all, "raise mast", "lift.examined").standing, Standing::NotKnown);
    let all = changed(0, kit, "lifting-rating = \"9 kN\"\n", "");
    assert_eq!(of(&all, "raise mast", "lift.rated").standing, Standing::PastLimit);
    assert_eq!(of(&all, "raise mast", "lift.pull").standing, Standing::NotKnown);
    // A weaker winch, a drum that is full of a longer rope, a heavier mast.
    let all = changed(0, kit, "lifting-rating = \"9 kN\"", "lifting-rating = \"8 kN\"");
    assert_eq!(of(&all, "raise mast", "lift.pull").standing, Standing::PastLimit);
    let all = changed(0, kit, "rope-length = \"25 m\"", "rope-length = \"40 m\"");
    assert_eq!(of(&all, "raise mast", "lift.pull").standing, Standing::PastLimit);
    let all = changed(0, ride, "mass = \"620 kg ± 3 %\"", "mass = \"620 kg ± 12 %\"");
    assert_eq!(of(&all, "raise mast", "lift.pull").standing, Standing::PastLimit);
    // A hinge that does not lie where the mast turns about it.
    let all = changed(0, ride, "hinge = [\"4.3 m\"", "hinge = [\"3.9 m\"");
    let pull = of(&all, "raise mast", "lift.pull");
    assert!(pull.standing == Standing::NotKnown || pull.standing == Standing::PastLimit, "{pull:?}");
    assert!(pull.unknown.iter().any(|why| why.contains("agree")), "{pull:?}");
    // A wind limit of a lift that is no lower than that of the ride.
    let all = changed(
        0,
        ride,
        "wind-limit = { speed = \"9 m/s\", averaged-over = \"3 s\", at-height = \"6 m\" }\ncautions = [\"Past the wind limit",
        "wind-limit = { speed = \"15 m/s\", averaged-over = \"3 s\", at-height = \"6 m\" }\ncautions = [\"Past the wind limit",
    );
    assert_eq!(of(&all, "raise mast", "lift.wind").standing, Standing::PastLimit);
    // What is not told of a hold, and of how it comes over its balance on its way down.
    let all = changed(1, ride, "held-back-rated = \"12 kN\"", "held-back-rated = \"3 kN\"");
    assert_eq!(of(&all, "raise upright", "lift.hold").standing, Standing::PastLimit);
    assert_eq!(of(&all, "lower half", "lift.hold").standing, Standing::PastLimit);
    let by = "brought-over-by = \"the check line, hauled through its blocks and cleated after each pull\", ";
    let all = changed(1, ride, by, "");
    assert_eq!(of(&all, "lower half", "lift.over").standing, Standing::NotKnown);
    let all = changed(1, ride, ", first-held-by = \"the winch and its pawl\"", "");
    assert_eq!(of(&all, "lower half", "lift.held").standing, Standing::NotKnown);
    // More in the wind than the winch holds, and what the wind finds of a part not told.
    let area = "wind = { along = \"1.6 m2\", across = \"1.6 m2\", lift = \"0 m2\", up = \"0.9 m\" }";
    let all = changed(0, ride, area, &area.replace("1.6", "60"));
    for code in ["lift.gust", "lift.wind-most"] {
        assert_eq!(of(&all, "raise mast", code).standing, Standing::PastLimit, "{code}");
    }
    assert!(of(&all, "raise mast", "lift.pull").standing <= Standing::Close, "in a calm it holds");
    let all = changed(0, ride, area, "");
    for code in ["lift.gust", "lift.wind-most"] {
        assert_eq!(of(&all, "raise mast", code).standing, Standing::NotKnown, "{code}");
    }
    // Nothing that holds the tower past its balance.
    let all = changed(1, ride, "held-back-by = \"the check line on its cleat\", ", "");
    assert_eq!(of(&all, "raise upright", "lift.line").standing, Standing::PastLimit);
    let lift = all.iter().find(|lift| lift.step == "raise upright").expect("such a step");
    assert_eq!(standing_of(lift), Standing::PastLimit);
}
