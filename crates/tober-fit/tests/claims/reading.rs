//! Reads questions and claims from the JSON of the folders `sound` and `broken`. Only the tests read files.

use serde_json::Value;
use std::path::{Path, PathBuf};
use tober_fit::packing::{
    Board, Claim, FootBoard, Grain, Layer, Layering, Leg, Level, Made, Placing, PlanSize, Plane, Question,
    Setting, Slenderness, StackLimits, Support,
};
use tober_quantity::TenthMm;

pub fn folder(name: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join(name)
}

pub fn file(path: &Path) -> Value {
    let text = std::fs::read_to_string(path).unwrap_or_else(|e| panic!("{}: {e}", path.display()));
    serde_json::from_str(&text).unwrap_or_else(|e| panic!("{}: {e}", path.display()))
}

/// All JSON files of a folder, by name.
pub fn files(name: &str) -> Vec<(String, Value)> {
    let entries = std::fs::read_dir(folder(name)).unwrap_or_else(|e| panic!("{name}: {e}"));
    let mut paths: Vec<PathBuf> =
        entries.map(|entry| entry.expect("an entry of the folder").path()).collect();
    paths.sort();
    paths.iter().map(|path| (path.display().to_string(), file(path))).collect()
}

pub fn int(value: &Value, key: &str) -> i64 {
    value[key].as_i64().unwrap_or_else(|| panic!("no whole number `{key}` in {value}"))
}
fn tenths(value: &Value, key: &str) -> TenthMm {
    TenthMm(int(value, key))
}
pub fn text<'a>(value: &'a Value, key: &str) -> &'a str {
    value[key].as_str().unwrap_or_else(|| panic!("no text `{key}` in {value}"))
}
pub fn list<'a>(value: &'a Value, key: &str) -> &'a [Value] {
    value[key].as_array().unwrap_or_else(|| panic!("no list `{key}` in {value}"))
}
fn pair(value: &Value, key: &str) -> Option<(i64, i64)> {
    let pair = value.get(key)?.as_array().expect("a pair");
    assert_eq!(pair.len(), 2, "{key} is a pair");
    Some((pair[0].as_i64().expect("a whole number"), pair[1].as_i64().expect("a whole number")))
}
fn size(value: &Value, key: &str) -> Option<PlanSize> {
    pair(value, key).map(|(along, across)| PlanSize { along: TenthMm(along), across: TenthMm(across) })
}

pub fn question(value: &Value) -> Question {
    let (along, across) = pair(value, "level_01mm_per_m").expect("level tolerances");
    Question {
        supports: list(value, "supports").iter().map(support).collect(),
        boards: list(value, "boards").iter().map(board).collect(),
        stack: StackLimits {
            height_most: tenths(&value["stack"], "height_most_01mm"),
            boards_least: int(&value["stack"], "boards_least"),
            boards_most: int(&value["stack"], "boards_most"),
        },
        lift_least: tenths(value, "lift_least_01mm"),
        level: Level { along_per_m: TenthMm(along), across_per_m: TenthMm(across) },
        planarity: tenths(value, "planarity_01mm"),
        foot_board: match text(value, "foot_board") {
            "always" => FootBoard::Always,
            "not asked" => FootBoard::NotAsked,
            other => panic!("foot_board {other}"),
        },
        layering: match text(value, "layering") {
            "required" => Layering::Required,
            "not asked" => Layering::NotAsked,
            other => panic!("layering {other}"),
        },
        slenderness: pair(value, "slenderness").map(|(height, width)| Slenderness { height, width }),
    }
}

fn support(value: &Value) -> Support {
    let leg = &value["leg"];
    let leg = if let Some(holes) = leg.get("holes") {
        Leg::Holes {
            first: tenths(holes, "first_01mm"),
            pitch: tenths(holes, "pitch_01mm"),
            count: int(holes, "count"),
        }
    } else {
        let screw = &leg["screw"];
        Leg::Screw { shortest: tenths(screw, "shortest_01mm"), longest: tenths(screw, "longest_01mm") }
    };
    Support {
        name: text(value, "name").to_owned(),
        x: tenths(value, "x_01mm"),
        y: tenths(value, "y_01mm"),
        ground: tenths(value, "ground_01mm"),
        leg,
        foot: size(value, "foot_01mm"),
        stack_most: value.get("stack_most_01mm").map(|_| tenths(value, "stack_most_01mm")),
        hole_forced: value.get("hole_forced").map(|_| int(value, "hole_forced")),
    }
}

fn board(value: &Value) -> Board {
    Board {
        name: text(value, "name").to_owned(),
        thickness: tenths(value, "thickness_01mm"),
        count: int(value, "count"),
        made: match text(value, "made") {
            "timber" => Made::Timber,
            "thin ply" => Made::ThinPly,
            "wedges" => Made::Wedges,
            "metal" => Made::Metal,
            other => panic!("made {other}"),
        },
        plan: size(value, "plan_01mm"),
    }
}

pub fn claim(value: &Value) -> Claim {
    let plane = &value["plane"];
    Claim {
        placings: list(value, "placings").iter().map(placing).collect(),
        plane: Plane {
            height: int(plane, "height"),
            along: int(plane, "along"),
            across: int(plane, "across"),
            denominator: int(plane, "denominator"),
        },
        lift_greatest: tenths(value, "lift_greatest_01mm"),
        boards_total: int(value, "boards_total"),
    }
}

fn placing(value: &Value) -> Placing {
    let setting = if value.get("hole").is_some() {
        Setting::Hole(int(value, "hole"))
    } else {
        Setting::Extension(tenths(value, "extension_01mm"))
    };
    let boards = list(value, "boards").iter().map(|n| n.as_i64().expect("a whole number")).collect();
    let layers = value.get("layers").map(|_| list(value, "layers").iter().map(layer).collect());
    Placing { setting, boards, layers }
}

fn layer(value: &Value) -> Layer {
    let kind = value[0].as_u64().and_then(|kind| usize::try_from(kind).ok()).expect("a kind");
    let grain = match value[1].as_str() {
        Some("along") => Grain::Along,
        Some("across") => Grain::Across,
        other => panic!("grain {other:?}"),
    };
    Layer { kind, grain }
}
