//! The one file for one phone: the same bytes as the laptop, nothing asked of any network, nothing filled in.

mod questions;
mod rehearsal;
mod sources;

use questions::{MEADOW, Phone, TAPES, answered, meadow};
use serde_json::json;
use std::fs;
use std::path::Path;
use std::process::Command;
use tober_phone::core::{Texts, answer};
use tober_phone::module::BUILT_FROM;
use tober_phone::page::{Book, FILE_BYTES_MAX, book, page};

#[test]
fn law_the_core_is_built_from_the_sources_beside_it() {
    assert_eq!(
        sources::hash(),
        BUILT_FROM.trim(),
        "the core for the phone is older than the sources: run crates/tober-phone/core/build.sh and commit what it writes"
    );
}

#[test]
fn law_the_phone_gives_the_bytes_of_the_laptop() {
    let lines = questions::all();
    assert_eq!(lines.len(), 65);

    let folder = std::env::temp_dir().join(format!("tober-bytes-{}", std::process::id()));
    fs::create_dir_all(&folder).expect("a folder for the test");
    let (asked, said) = (folder.join("questions"), folder.join("answers"));
    fs::write(&asked, lines.join("\n")).expect("the questions are written");
    let node = Command::new("node")
        .args([
            "--no-warnings".as_ref(),
            // Node 20 ends now and then with a segmentation fault where its WASI is called the fast way while memory grows.
            "--no-turbo-fast-api-calls".as_ref(),
            Path::new(env!("CARGO_MANIFEST_DIR")).join("core/ask.mjs").as_os_str(),
        ])
        .args([&asked, &said])
        .output()
        .expect("node runs the module (Debian: apt-get install nodejs)");
    assert!(node.status.success(), "{}", String::from_utf8_lossy(&node.stderr));
    let said = fs::read_to_string(&said).expect("the module answered");
    let _ = fs::remove_dir_all(&folder);

    let of_module: Vec<&str> = said.split('\n').collect();
    assert_eq!(of_module.len(), lines.len());
    for (asked, of_module) in lines.iter().zip(of_module) {
        let of_laptop = answer(asked);
        assert!(of_laptop.len() > 20, "an answer says something: {of_laptop}");
        assert!(of_laptop == of_module, "the bytes differ for {}", &asked[..asked.len().min(120)]);
    }
}

#[test]
fn law_typed_readings_give_the_plan_of_the_same_readings_in_a_file() {
    let mut texts = meadow();
    // The file gives the slope twice, turned end for end; the thumb types it once.
    texts.pitch = texts
        .pitch
        .replace("[\"-4 mm/m\", \"-4 mm/m\"]", "\"-4 mm/m\"")
        .replace("[\"3 mm/m\", \"3 mm/m\"]", "\"3 mm/m\"");
    assert_ne!(texts.pitch, MEADOW[0]);
    // The page has no field for the tape at the hitch jack, and the file's is of another frame.
    let kept: Vec<&str> = texts.pitch.lines().filter(|line| !line.starts_with("hitch-jack")).collect();
    texts.pitch = kept.join("\n") + "\n";
    let mut phone = Phone::of(texts);
    let file = phone.ask("pages");
    let thumb = phone.type_meadow();
    for order in 1..=6 {
        let step = format!("step {order}");
        assert!(file["parts"][&step].as_str().is_some_and(|html| html.contains("Answer")));
        assert_eq!(file["parts"][&step], thumb["parts"][&step], "{step}");
    }
    assert_eq!(file["parts"]["findings"], thumb["parts"]["findings"]);
}

#[test]
fn law_a_blank_is_never_filled_in() {
    for (leg, _) in TAPES {
        let mut phone = Phone::of(meadow());
        phone.type_meadow();
        // Taken back: the field is blank again.
        let answer = phone.read(&format!("leg {leg}"), "");
        let parts = &answer["parts"];
        let said = parts["pitch plan"].as_str().expect("something is said");
        assert!(said.contains("Still to read") && said.contains(leg), "{said}");
        for order in 1..=6 {
            let step = parts[format!("step {order}")].as_str().expect("a step");
            assert!(!step.contains("Answer"), "no stack without the reading at {leg}");
        }
        assert_eq!(answer["fields"][format!("leg {leg}")], "");
    }
}

#[test]
fn refuse_what_is_typed_past_its_field() {
    for nonsense in [
        "eight hundred",
        "6971",
        "-800",
        "1 mm\" }, { leg = \"rear left",
        "<script>alert(1)</script>",
        "\\",
        "1 kg",
        "\u{0}",
        "1e999",
    ] {
        let mut phone = Phone::of(meadow());
        phone.type_meadow();
        let answer = phone.read("leg rear left", nonsense);
        let wrong = answer["wrong"]["leg rear left"].as_str().expect("what is wrong");
        assert!(wrong.len() > 10, "{nonsense}: {wrong}");
        assert!(!answer["parts"].to_string().contains("<script"), "{nonsense}");
        assert!(!answer["parts"]["step 1"].as_str().expect("a step").contains("Answer"), "{nonsense}");
        // What was typed stands in its field as it was typed; nothing else is held to be wrong.
        assert_eq!(answer["fields"]["leg rear left"], nonsense.trim());
        assert_eq!(answer["wrong"].as_object().map(serde_json::Map::len), Some(1), "{nonsense}");
    }
    assert!(answered(&json!("nonsense"))["refused"].is_string());
    assert!(answered(&json!({ "do": "dance" }))["refused"].is_string());
    assert!(answer("{").contains("not JSON"));
}

#[test]
fn law_a_correction_keeps_what_it_corrects() {
    let mut phone = Phone::of(meadow());
    phone.type_meadow();
    let before = phone.entries.len();
    let answer = phone.read("leg rear left", "805");
    assert_eq!(phone.entries.len(), before + 1);
    assert_eq!(answer["fields"]["leg rear left"], "805");
    let log = answer["parts"]["entries"].as_str().expect("the entries");
    assert!(log.contains("Takes the place of 804"), "{log}");
    assert!(log.contains("class=\"older\""));
    // The same again is no entry.
    phone.read("leg rear left", "805");
    assert_eq!(phone.entries.len(), before + 1);
}

#[test]
fn refuse_two_entries_that_disagree_until_somebody_settles_it() {
    let (mut one, mut other) = (Phone::of(meadow()), Phone::of(meadow()));
    one.type_meadow();
    other.device = "bbbbbb-1".to_owned();
    other.read("leg rear left", "894");
    one.entries.extend(other.entries);
    let answer = one.ask("pages");
    let wrong = answer["wrong"]["leg rear left"].as_str().expect("it is said");
    assert!(wrong.contains("804") && wrong.contains("894"), "{wrong}");
    assert_eq!(answer["fields"]["leg rear left"], "", "neither is put in");
    assert!(!answer["parts"]["step 1"].as_str().expect("a step").contains("Answer"));
    let settled = one.read("leg rear left", "804");
    assert!(settled["wrong"]["leg rear left"].is_null());
    assert!(settled["parts"]["step 1"].as_str().expect("a step").contains("Answer"));
}

#[test]
fn law_a_tick_is_of_one_plan() {
    let mut phone = Phone::of(meadow());
    let answer = phone.type_meadow();
    let plan = answer["plan"].as_str().expect("a plan").to_owned();
    phone.enter("adopt", "plan", &plan);
    let answer = phone.enter("tick", "built front left", "yes");
    assert!(answer["parts"]["step 3"].as_str().is_some_and(|html| html.contains("Confirm pin")));
    // Another reading proposes another plan; the one that was taken stays on the stacks until the chief takes it.
    let answer = phone.read("leg rear left", "815");
    assert_eq!(answer["plan"].as_str(), Some(plan.as_str()));
    assert!(answer["parts"]["banner"].as_str().is_some_and(|html| html.contains("readings have changed")));
    let said = answer["parts"]["pitch plan"].as_str().expect("the proposal");
    let other = said
        .split("data-value=\"")
        .nth(1)
        .and_then(|rest| rest.split('"').next())
        .expect("its name")
        .to_owned();
    assert_ne!(other, plan);
    let answer = phone.enter("adopt", "plan", &other);
    assert_eq!(answer["plan"].as_str(), Some(other.as_str()));
    assert!(answer["parts"]["step 3"].as_str().is_some_and(|html| html.contains("Do again")), "{answer:#}");
}

#[test]
fn refuse_to_call_legs_set_before_every_pin_is_seen() {
    let mut phone = Phone::of(meadow());
    let plan = phone.type_meadow()["plan"].as_str().expect("a plan").to_owned();
    phone.enter("adopt", "plan", &plan);
    let works: Vec<String> =
        ["built", "pinned"].iter().flat_map(|work| TAPES.map(|(leg, _)| format!("{work} {leg}"))).collect();
    for work in &works {
        let answer = phone.ask("pages");
        assert!(
            !answer["parts"]["hold set"].as_str().expect("a hold point").contains("<button"),
            "before {work}"
        );
        assert!(phone.enter("hold", "hold legs set", "yes")["refused"].is_string(), "before {work}");
        phone.enter("tick", work, "yes");
    }
    assert!(phone.enter("hold", "hold lowered", "yes")["refused"].is_string());
    assert!(phone.enter("hold", "hold frame read", "yes")["refused"].is_string());
    assert!(phone.enter("tick", "built mast", "yes")["refused"].is_string());
    let answer = phone.ask("pages");
    assert!(answer["parts"]["hold set"].as_str().expect("a hold point").contains("<button"));
}

#[test]
fn refuse_a_sink_that_was_read_too_early() {
    let mut phone = Phone::of(meadow());
    phone.type_meadow();
    phone.read("ground", "turf");
    phone.read("bottom", "mat");
    phone.read("sink load rear right", "6");
    phone.enter("begun", "loaded rear right", "yes");
    phone.ms += 5 * 60_000;
    let answer = phone.read("sink rear right", "4");
    assert!(answer["parts"]["loaded rear right"].as_str().expect("said").contains("before 15 minutes"));
    let early = answer["parts"]["ground said"].as_str().expect("said").to_owned();
    // Loaded again, and read after the wait.
    phone.enter("begun", "loaded rear right", "again");
    phone.read("sink rear right", "");
    phone.ms += 20 * 60_000;
    let answer = phone.read("sink rear right", "4");
    let late = answer["parts"]["ground said"].as_str().expect("said");
    assert!(early.contains("Not known") && early != late, "{late}");
}

#[test]
fn law_what_is_handed_over_comes_back_whole() {
    let mut phone = Phone::of(meadow());
    phone.type_meadow();
    let mut over = phone.question("hand over");
    over["as"] = json!("file");
    let file = answered(&over)["text"].as_str().expect("a file").to_owned();
    let mut other = Phone::of(meadow());
    other.device = "bbbbbb-1".to_owned();
    let mut question = other.question("take in");
    question["text"] = json!(file);
    let taken = answered(&question);
    assert_eq!(taken["entries"].as_array().map(Vec::len), Some(phone.entries.len()), "{taken}");
    other.entries.extend(
        taken["entries"].as_array().into_iter().flatten().filter_map(|e| e.as_str().map(str::to_owned)),
    );
    assert_eq!(other.ask("pages")["parts"]["step 1"], phone.ask("pages")["parts"]["step 1"]);
    // A second time nothing is new.
    let mut question = other.question("take in");
    question["text"] = json!(file);
    assert_eq!(answered(&question)["entries"].as_array().map(Vec::len), Some(0));
    // Damaged: the good lines are taken, and the spoiled one is named.
    let mut question = Phone::of(meadow()).question("take in");
    question["text"] = json!(file.replacen("742", "743", 1));
    let taken = answered(&question);
    assert_eq!(taken["entries"].as_array().map(Vec::len), Some(phone.entries.len() - 1), "{taken}");
    assert!(taken["said"].as_str().is_some_and(|said| said.contains("Line 4")), "{taken}");
    // Of another visit: nothing is taken.
    let mut texts = meadow();
    texts.visit = texts.visit.replace("Quern Meadow, midsummer", "Another");
    let mut question = Phone::of(texts).question("take in");
    question["text"] = json!(file);
    assert!(answered(&question)["refused"].as_str().is_some_and(|said| said.contains("midsummer")));
    for nonsense in ["", "   ", "hello", "{}", "TOBER0/1/2/AAAAAAAA/XYZ", "{\"format\":9}"] {
        let mut question = phone.question("take in");
        question["text"] = json!(nonsense);
        let answer = answered(&question);
        let said = answer["refused"].as_str().or(answer["said"].as_str()).unwrap_or_default();
        assert!(said.len() > 20, "{nonsense}: {answer}");
        assert!(answer["entries"].as_array().is_none_or(Vec::is_empty), "{nonsense}");
    }
}

#[test]
fn law_the_file_is_small_whole_and_readable_without_script() {
    let page = page(&meadow()).expect("the demo has a page");
    assert!(page.len() < FILE_BYTES_MAX, "{} bytes", page.len());
    // The name by which SVG says what it is, and which nobody fetches.
    let asked = page.replace("xmlns=\"http://www.w3.org/2000/svg\"", "");
    for address in ["http://", "https://", "src=", "@import", "url("] {
        let found = asked.find(address).map(|at| &asked[at.saturating_sub(40)..(at + 60).min(asked.len())]);
        assert_eq!(found, None, "the page asks for something by {address}");
    }
    let before_script = page.split("<script").next().expect("a page");
    for (leg, _) in TAPES {
        assert!(before_script.contains(&format!("Build {leg}")), "{leg} can be read without script");
    }
    for field in page.split("<input type=\"text\"").skip(1) {
        let field = field.split('>').next().expect("it ends");
        assert!(!field.contains("value="), "a field begins blank: {field}");
    }
}

#[test]
fn law_a_frame_is_trimmed_round_by_round() {
    let mut phone = Phone::lowered();
    let answer = phone.read_frame("30");
    let said = answer["parts"]["trim said"].as_str().expect("said").to_owned();
    assert!(said.contains("The least change: one leg"), "{said}");
    assert!(said.contains("Rear right"), "{said}");
    let words =
        said.split("data-value=\"").nth(1).and_then(|rest| rest.split('"').next()).expect("words").to_owned();
    let answer = phone.enter("change", "changed 1", &words);
    assert!(answer["entry"].is_string(), "{answer}");
    // The next reading begins blank (S3).
    assert!(answer["fields"]["height rear right"].is_null(), "{}", answer["fields"]);
    assert!(answer["fields"]["foot front left"].is_null());
    assert!(answer["parts"]["trim aside"].as_str().is_some_and(|html| html.contains("reading 2")));
    phone.read("frame way", "level");
    phone.read("level along way", "level");
    phone.read("level across way", "level");
    let mut answer = json!(null);
    for (leg, _) in TAPES {
        answer = phone.read(&format!("foot {leg}"), "snug");
    }
    let said = answer["parts"]["trim said"].as_str().expect("said");
    assert!(said.contains("hold frame read"), "{said}");
    let answer = phone.enter("hold", "hold frame read", "yes");
    assert!(answer["parts"]["trim said"].as_str().is_some_and(|html| html.contains("Frame read, inside")));
}

#[test]
fn refuse_to_read_a_frame_before_it_is_lowered() {
    let mut phone = Phone::of(meadow());
    let answer = phone.type_meadow();
    assert_eq!(answer["shown"]["lowered"], false);
    assert!(
        answer["parts"]["trim before"]
            .as_str()
            .is_some_and(|html| html.contains("First every leg is set") && !html.contains("<button"))
    );
    let answer = phone.enter("change", "changed 1", "anything");
    assert!(answer["refused"].as_str().is_some_and(|said| said.contains("read the frame first")), "{answer}");
    // A light foot whose gap nobody measured is not known, and named.
    let mut phone = Phone::lowered();
    phone.read("frame way", "heights");
    for (leg, _) in TAPES {
        phone.read(&format!("foot {leg}"), "snug");
        phone.read(&format!("height {leg}"), "645");
    }
    let answer = phone.read("foot rear right", "light");
    let said = answer["parts"]["trim said"].as_str().expect("said");
    assert!(
        said.contains("gap") && !said.contains("Confirm the change") && !said.contains("hold frame read"),
        "{said}"
    );
}

fn hard() -> Texts {
    let [pitch, visit] = questions::HARD.map(str::to_owned);
    Texts { pitch, visit, rows: None, ..meadow() }
}

#[test]
fn law_several_visits_in_one_file_are_read_without_script() {
    let page = book(&Book { visits: vec![hard(), meadow()], ..Book::default() }).expect("two visits");
    assert!(page.len() < FILE_BYTES_MAX, "{} bytes", page.len());
    let before_script = page.split("<script").next().expect("a page");
    for name in ["Plover Hard", "Quern Meadow"] {
        assert!(before_script.contains(name), "{name}");
    }
    assert_eq!(before_script.matches("<b>Rear right</b>").count(), 2, "each plan stands there in short");
    // Each is opened by its own texts, and its entries are kept apart.
    let keys: Vec<String> = [hard(), meadow()]
        .iter()
        .map(|texts| answered(&questions::question("open", texts))["key"].as_str().expect("a key").to_owned())
        .collect();
    assert_ne!(keys[0], keys[1]);
}

#[test]
fn regress_the_tape_counts_where_nobody_chose_a_method() {
    let mut texts = meadow();
    let question = {
        let mut question = questions::question("begin", &texts);
        question["name"] = json!("Field");
        question["units"] = json!("gb");
        question
    };
    let begun = answered(&question);
    texts.pitch = begun["pitch"].as_str().expect("a pitch").to_owned();
    texts.visit = begun["visit"].as_str().expect("a visit").to_owned();
    texts.rows = None;
    let mut phone = Phone::of(texts);
    phone.type_meadow();
    let chosen = phone.ask("pages");
    let unchosen = phone.read("method", "");
    assert_eq!(chosen["parts"]["step 1"], unchosen["parts"]["step 1"]);
    assert!(unchosen["parts"]["step 1"].as_str().is_some_and(|html| html.contains("Answer")));
}

#[test]
fn law_a_ride_alone_begins_a_pitch_on_which_nothing_is_read() {
    let ride = Texts { pitch: String::new(), visit: String::new(), rows: None, ..meadow() };
    let page = book(&Book { begin: Some(ride.clone()), ..Book::default() }).expect("a ride alone");
    assert!(page.contains("Begin a pitch"));
    let mut question = questions::question("begin", &ride);
    question["name"] = json!("Bramble \"Green\"");
    question["units"] = json!("gb");
    let begun = answered(&question);
    let texts = Texts {
        pitch: begun["pitch"].as_str().expect("a pitch").to_owned(),
        visit: begun["visit"].as_str().expect("a visit").to_owned(),
        ..ride
    };
    let mut phone = Phone::of(texts);
    let blank = phone.ask("pages");
    // Nothing is filled in but the way whose fields are seen.
    assert_eq!(blank["fields"], json!({ "method": "tape" }));
    assert!(blank["parts"]["pitch plan"].as_str().is_some_and(|html| html.contains("Still to read")));
    // The same readings as the meadow's, from an empty ride to stacks.
    let answer = phone.type_meadow();
    assert!(
        answer["parts"]["pitch plan"].as_str().is_some_and(|html| html.contains("Take this plan")),
        "{answer:#}"
    );
    for (name, units) in
        [("", "gb"), ("   ", "gb"), (&*"x".repeat(61), "gb"), ("Field", ""), ("Field", "cubits")]
    {
        question["name"] = json!(name);
        question["units"] = json!(units);
        assert!(
            answered(&question)["refused"].as_str().is_some_and(|said| said.len() > 20),
            "{name} {units}"
        );
    }
}

#[test]
fn law_a_code_on_a_screen_is_read_from_a_picture_of_it() {
    let mut phone = Phone::of(meadow());
    phone.type_meadow();
    let lines: Vec<String> = phone.entries.clone();
    let file = tober_log::text::open(
        format!("{}{}\n", tober_log::text::write("", &tober_log::Log::default()), lines.join("\n"))
            .as_bytes(),
    );
    let codes =
        tober_log::qr::codes("Lantern Round: Quern Meadow, midsummer", file.log.entries()).expect("codes");
    let mut pasted = String::new();
    for code in &codes {
        // Each module as four by four pixels, on white.
        let modules = tober_log::qr::modules(code).expect("a code");
        let (edge, size) = (16, 4);
        let side = modules.side * size + 2 * edge;
        let mut grey = String::new();
        for y in 0..side {
            for x in 0..side {
                let at = |v: usize| v.checked_sub(edge).map(|v| v / size).filter(|&v| v < modules.side);
                let dark = matches!((at(x), at(y)), (Some(x), Some(y)) if modules.dark[y * modules.side + x]);
                grey.push_str(if dark { "14" } else { "f0" });
            }
        }
        let question = json!({ "do": "read photo", "width": side, "height": side, "grey": grey });
        let answer = answered(&question);
        assert_eq!(answer["text"].as_str(), Some(code.as_str()), "{answer}");
        pasted.push_str(answer["text"].as_str().expect("a text"));
        pasted.push('\n');
    }
    let mut question = Phone::of(meadow()).question("take in");
    question["text"] = json!(pasted);
    assert_eq!(answered(&question)["entries"].as_array().map(Vec::len), Some(phone.entries.len()));
    // A picture of nothing, and no picture.
    for (side, grey) in
        [(64, "f0".repeat(64 * 64)), (64, "f".to_owned()), (0, String::new()), (9, "zz".repeat(81))]
    {
        let question = json!({ "do": "read photo", "width": side, "height": side, "grey": grey });
        assert!(answered(&question)["refused"].as_str().is_some_and(|said| said.len() > 20), "{side}");
    }
}

#[test]
fn law_a_reading_that_fits_its_field_and_not_the_others_is_named() {
    let mut phone = Phone::of(meadow());
    let fits = phone.type_meadow();
    assert!(
        !fits["parts"]["pitch errors"].to_string().contains("unlike"),
        "{}",
        fits["parts"]["pitch errors"]
    );
    // Two digits changed round: 697 for 967.
    let slip = phone.read("leg front left", "967");
    let said = slip["parts"]["pitch errors"].as_str().expect("said");
    assert!(said.contains("unlike the others") && said.contains("Front left"), "{said}");
}

#[test]
fn refuse_a_plan_past_a_limit_that_nobody_may_override_and_ask_a_reason_for_any_other() {
    // Ground that sinks past its limit: no override (S2).
    let mut barred = meadow();
    barred.ride = barred.ride.replace("sink-greatest = \"10 mm\"", "sink-greatest = \"2 mm\"");
    assert_ne!(barred.ride, meadow().ride);
    let mut phone = Phone::of(barred);
    let answer = phone.type_meadow();
    let said = answer["parts"]["pitch plan"].as_str().expect("said");
    assert!(
        said.contains("Do not build here")
            && said.contains("No override")
            && !said.contains("data-do=\"adopt\""),
        "{said}"
    );
    assert_eq!(answer["shown"]["reason"], false);
    let plan = answer["plan"].as_str().expect("a name").to_owned();
    assert!(
        phone.enter("adopt", "plan", &plan)["refused"]
            .as_str()
            .is_some_and(|said| said.contains("nobody may override"))
    );

    // A lift past the maker's: the chief may take it on, with a reason that stands there.
    let mut past = meadow();
    past.ride = past.ride.replace("greatest-lift = \"300 mm\"", "greatest-lift = \"100 mm\"");
    assert_ne!(past.ride, meadow().ride);
    let mut phone = Phone::of(past);
    let answer = phone.type_meadow();
    let plan = answer["plan"].as_str().expect("a name").to_owned();
    assert_eq!(answer["shown"]["reason"], true, "{}", answer["parts"]["pitch plan"]);
    assert!(
        phone.enter("adopt", "plan", &plan)["refused"]
            .as_str()
            .is_some_and(|said| said.contains("Write first why"))
    );
    let answer = phone.read("reason", "The maker was asked and agrees, letter of today.");
    assert!(
        answer["parts"]["pitch plan"]
            .as_str()
            .is_some_and(|html| html.contains("The maker was asked") && html.contains("Take this plan"))
    );
    let answer = phone.enter("adopt", "plan", &plan);
    assert!(answer["entry"].is_string(), "{answer}");
    // Another plan wants its own reason.
    let answer = phone.read("leg rear left", "815");
    assert!(answer["fields"]["reason"].is_null(), "{}", answer["fields"]);
    // A plan that is not the one shown is not taken.
    assert!(phone.enter("adopt", "plan", "00000000")["refused"].is_string());
}

#[test]
fn law_from_an_empty_ride_to_a_trimmed_frame() {
    let mut texts = Texts { pitch: String::new(), visit: String::new(), rows: None, ..meadow() };
    let mut question = questions::question("begin", &texts);
    question["name"] = json!("Field");
    question["units"] = json!("gb");
    let begun = answered(&question);
    texts.pitch = begun["pitch"].as_str().expect("a pitch").to_owned();
    texts.visit = begun["visit"].as_str().expect("a visit").to_owned();
    let mut phone = Phone::of(texts);
    for (what, value) in [
        ("slope deviation", "0.3"),
        ("tape deviation", "2"),
        ("ground", "turf"),
        ("wet", "dry"),
        ("bottom", "mat"),
        ("friction", "0.4"),
    ] {
        phone.read(what, value);
    }
    let answer = phone.type_meadow();
    let plan = answer["plan"].as_str().expect("a plan").to_owned();
    let taken = phone.enter("adopt", "plan", &plan);
    assert!(taken["entry"].is_string(), "{}", taken["refused"]);
    for work in ["built", "pinned"] {
        for (leg, _) in TAPES {
            phone.enter("tick", &format!("{work} {leg}"), "yes");
        }
    }
    phone.enter("hold", "hold legs set", "yes");
    phone.enter("hold", "hold lowered", "yes");
    let answer = phone.read_frame("30");
    let said = answer["parts"]["trim said"].as_str().expect("said");
    assert!(said.contains("Confirm the change"), "{said}");
    phone.enter("change", "changed 1", "as it says");
    phone.read("frame way", "heights");
    let mut answer = json!(null);
    for (leg, _) in TAPES {
        phone.read(&format!("foot {leg}"), "snug");
        answer = phone.read(&format!("height {leg}"), "645");
    }
    let said = answer["parts"]["trim said"].as_str().expect("said");
    assert!(said.contains("hold frame read"), "{said}");
    let held = phone.enter("hold", "hold frame read", "yes");
    assert!(held["entry"].is_string(), "{}", held["refused"]);
}

#[test]
fn regress_a_screw_leg_is_not_asked_for_a_pin() {
    let mut texts = meadow();
    let holes = "{ by = \"leg-and-sleeve holes\", first-hole = \"740 mm\", hole-pitch = \"40 mm\", hole-count = 8, retracted-length = \"480 mm\", pin-diameter = \"32 mm\", pin-strength = \"355 N/mm2\", leg-wall = \"8 mm\", sleeve-wall = \"8 mm\", wall-strength = \"355 N/mm2\", pin-gap = \"3 mm\" }";
    let screw =
        "{ by = \"screw\", retracted-length = \"690 mm\", travel = \"280 mm\", thread-pitch = \"10 mm\" }";
    texts.ride = texts.ride.replace(holes, screw);
    let mut phone = Phone::of(texts);
    let plan = phone.type_meadow()["plan"].as_str().expect("a plan").to_owned();
    phone.enter("adopt", "plan", &plan);
    let answer = phone.enter("tick", "built front left", "yes");
    let step = answer["parts"]["step 3"].as_str().expect("a step");
    assert!(step.contains("Confirm setting and lock") && step.contains("Screw out"), "{step}");
    assert!(!step.contains("clip") && !step.contains("Stiff pin"), "{step}");
}
