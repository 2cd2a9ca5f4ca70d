//! Readings from a file of rows.

use tober_book::*;

const PITCH: &str = "format = 0\n[pitch]\nname = \"Nowhere\"\n[readings]\nmethod = \"tape\"\nslope-along = \"1 mm/m\"\nslope-across = \"0 mm/m\"\nfile = \"tape.csv\"\n";

#[test]
fn hand_tape_rows_are_read_as_if_they_stood_in_the_pitch() {
    let rows = "\u{feff}# the tape, morning\r\nLeg, Tape (mm)\r\nfront left, 812\r\n\r\n\"rear left\", 2 ft 7 1/2 in\r\n";
    let pitch = parse_pitch(&Source::new("pitch.toml", PITCH));
    let pitch = with_rows(pitch, &Source::new("tape.csv", rows)).into_result().expect("nothing is wrong");
    let Some(Readings::Tape(tape)) = pitch.readings else { panic!("the method is tape") };
    let read: Vec<(&str, f64)> = tape.legs.iter().map(|leg| (leg.leg.as_str(), leg.tape.as_mm())).collect();
    // 2 ft 7 1/2 in are 31.5 x 25.4 mm.
    assert_eq!(read.iter().map(|r| r.0).collect::<Vec<_>>(), ["front left", "rear left"]);
    assert!((read[0].1 - 812.0).abs() < 1e-9 && (read[1].1 - 800.1).abs() < 1e-9);
}

#[test]
fn hand_staff_rows_with_places_semicolons_and_units_in_the_cells() {
    let rows =
        "point;y (m);x (m);set-up;kind;reading\nBM;2;1;S1;back;1.452 m\np \"1\";;;S1;between;-120 mm\n";
    let read = parse_staff_rows(&Source::new("staff.csv", rows)).into_result().expect("nothing is wrong");
    let at = read[0].at.expect("it has a place");
    assert!((at.along.as_m() - 1.0).abs() < 1e-12 && (at.across.as_m() - 2.0).abs() < 1e-12);
    assert_eq!((read[1].at, read[1].point.as_str()), (None, "p \"1\""));
    assert!((read[1].reading.as_mm() + 120.0).abs() < 1e-9);
}

/// These rows are refused once, with this code, at this line and column, in a sentence that holds `says`.
#[track_caller]
fn refused(rows: &str, code: Code, at: (usize, usize), says: &str) {
    let found = parse_tape_rows(&Source::new("tape.csv", rows)).diagnostics;
    let all: Vec<String> = found.iter().map(ToString::to_string).collect();
    assert_eq!(found.len(), 1, "{}", all.join("\n"));
    assert_eq!((found[0].code, (found[0].line, found[0].column)), (code, at), "{}", all[0]);
    assert!(all[0].contains(says), "{}", all[0]);
}

#[test]
fn refuse_rows() {
    refused("", Code::Missing, (1, 1), "leg");
    refused("# nothing\n\n", Code::Missing, (1, 1), "leg");
    refused("leg,tap\n", Code::UnknownKey, (1, 5), "`tape`");
    refused("leg\n", Code::Missing, (1, 1), "`tape` is missing");
    refused("leg,tape,colour\n", Code::UnknownKey, (1, 10), "colour");
    refused("leg,tape,tape\n", Code::RepeatedName, (1, 10), "already");
    refused("leg,tape\nfront left,812\n", Code::Unreadable, (2, 12), "812");
    refused("leg,tape (mm)\nfront left,8 1 2\n", Code::Unreadable, (2, 12), "");
    refused("leg,tape\nfront left,812 kg\n", Code::Unreadable, (2, 12), "kg");
    refused("leg,tape\nfront left,81.2 m\n", Code::OutOfRange, (2, 12), "at most");
    refused("leg,tape\nfront left,812 mm,\n", Code::Syntax, (2, 1), "3 cells");
    refused("leg,tape\nfront left,\n", Code::Missing, (2, 1), "`tape` is missing");
    refused("leg,tape\n\"front left,812 mm\n", Code::Syntax, (2, 1), "does not end");
    refused("leg,tape\n\"front left\" x,812 mm\n", Code::Syntax, (2, 14), "behind the closing quote");
    for formula in ["=1+1", "@SUM(A1)", "+812 mm", "-A1", "=HYPERLINK(\"\"x\"\")"] {
        refused(&format!("leg,tape\nfront left,\"{formula}\"\n"), Code::Unreadable, (2, 12), "formula");
    }
}

#[test]
fn refuse_rows_beside_what_is_right_all_at_once() {
    let rows = "leg,tape\na,1 m\nb,x\nc,2 m,3\nd,=4\n";
    let pitch = parse_pitch(&Source::new("pitch.toml", PITCH));
    let read = with_rows(pitch, &Source::new("tape.csv", rows));
    let places: Vec<(&str, usize)> = read.diagnostics.iter().map(|d| (d.file.as_str(), d.line)).collect();
    assert_eq!(places, [("tape.csv", 3), ("tape.csv", 4), ("tape.csv", 5)]);
    assert!(read.value.is_none());
}

#[test]
fn refuse_a_leg_of_the_rows_that_the_ride_has_not() {
    let ride = parse_ride(&Source::new("ride.toml", include_str!("data/full.ride.toml")));
    let kit = parse_kit(&Source::new("kit.toml", include_str!("data/full.kit.toml")));
    let visit = parse_visit(&Source::new(
        "visit.toml",
        "format = 0\n[visit]\nname = \"x\"\nride = \"ride.toml\"\nkit = \"kit.toml\"\npitch = \"pitch.toml\"\n",
    ));
    let pitch = parse_pitch(&Source::new("pitch.toml", PITCH));
    let pitch = with_rows(pitch, &Source::new("tape.csv", "leg,tape\nfront left,1 m\nfrnt right,1 m\n"));
    let found = disagreements(&ride, &kit, &pitch, &visit);
    assert_eq!(found.len(), 1);
    assert_eq!((found[0].file.as_str(), found[0].line, found[0].column), ("tape.csv", 3, 1));
    assert!(found[0].help.contains("front right"), "{}", found[0]);
}

const SPOTS: &str = "format = 0\n[pitch]\nname = \"Nowhere\"\n[readings]\nmethod = \"spots\"\nheight-deviation = \"5 mm\"\nfile = \"spots.csv\"\n";

/// As a survey instrument exports them: a byte order mark, semicolons, carriage returns, units in brackets.
#[test]
fn hand_spot_rows_with_units_in_brackets_and_a_column_of_deviations() {
    let rows = "\u{feff}Point;X [m];Y [m];Height [m];Deviation [mm]\r\n101;1.250;-3.500;62.310;4\r\nrear left;;;62.280;\r\n";
    let pitch = parse_pitch(&Source::new("pitch.toml", SPOTS));
    let pitch = with_rows(pitch, &Source::new("spots.csv", rows)).into_result().expect("nothing is wrong");
    let Some(Readings::Spots(read)) = pitch.readings else { panic!("the method is spots") };
    let [first, second] = &read.spots[..] else { panic!("two points") };
    let at = first.at.expect("it has a place");
    assert!((at.along.as_m() - 1.25).abs() < 1e-12 && (at.across.as_m() + 3.5).abs() < 1e-12);
    assert!((first.height.as_m() - 62.31).abs() < 1e-12);
    assert!((first.deviation.expect("it has one").as_mm() - 4.0).abs() < 1e-12);
    assert_eq!((second.point.as_str(), second.at, second.deviation), ("rear left", None, None));
}

#[test]
fn refuse_spot_rows() {
    let refused = |rows: &str, code: Code, at: (usize, usize), says: &str| {
        let found = parse_spot_rows(&Source::new("spots.csv", rows)).diagnostics;
        let all: Vec<String> = found.iter().map(ToString::to_string).collect();
        assert_eq!(found.len(), 1, "{}", all.join("\n"));
        assert_eq!((found[0].code, (found[0].line, found[0].column)), (code, at), "{}", all[0]);
        assert!(all[0].contains(says), "{}", all[0]);
    };
    refused("point;x (m);y (m);height (m)\na;1;2;62,31\n", Code::Unreadable, (2, 7), "62,31");
    refused("point;x (m);y (m);height (m)\na;1;2;62.31\nb;1;2\n", Code::Syntax, (3, 1), "3 cells");
    refused("point;x (m);y (m);hight (m)\n", Code::UnknownKey, (1, 19), "`height`");
    refused("point,x,y\n", Code::Missing, (1, 1), "`height` is missing");
    refused("point,x,height\n", Code::Missing, (1, 1), "`x` and `y` come together");
    refused("point,height\na,62.31\n", Code::Unreadable, (2, 3), "62.31");
    refused("point,height,deviation\na,62.31 m,1 m\n", Code::OutOfRange, (2, 11), "at most");
}

/// Earlier readings may stand in a file of their own, and what is wrong there is told with its own name.
#[test]
fn refuse_rows_of_the_earlier_readings_under_their_own_name() {
    let text = format!(
        "{PITCH}[earlier]\nmethod = \"water level\"\nfile = \"old.csv\"\nmeasured = \"2031-05-01\"\n"
    );
    let read = || {
        with_rows(
            parse_pitch(&Source::new("pitch.toml", &text)),
            &Source::new("tape.csv", "leg,tape\na,1 m\n"),
        )
    };
    let good =
        with_earlier_rows(read(), &Source::new("old.csv", "leg;reading (mm);line\na;812;1\na;900;2\n"));
    let good = good.into_result().expect("nothing is wrong");
    let Some(Readings::WaterLevel(water)) = &good.earlier else { panic!("a water level") };
    assert_eq!((water.legs.len(), water.legs[1].line.as_deref()), (2, Some("2")));
    assert_eq!(
        good.earlier.as_ref().and_then(Readings::measured).map(|d| d.to_string()).as_deref(),
        Some("2031-05-01")
    );
    let bad = with_earlier_rows(read(), &Source::new("old.csv", "leg;reading (mm)\na;8x\n"));
    let places: Vec<(&str, usize)> = bad.diagnostics.iter().map(|d| (d.file.as_str(), d.line)).collect();
    assert_eq!(places, [("old.csv", 2)]);
}
