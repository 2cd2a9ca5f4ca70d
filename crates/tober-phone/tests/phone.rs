//! The one file for one phone: the same bytes as the laptop, nothing asked of any network, nothing filled in.

mod questions;
mod sources;

use questions::{MEADOW, TAPES, meadow, question, typed};
use serde_json::{Value, json};
use std::fs;
use std::path::Path;
use std::process::Command;
use tober_phone::core::answer;
use tober_phone::module::BUILT_FROM;
use tober_phone::page::page;

/// The file opens from a phone's storage, and goes by any way that a photograph goes.
const MOST_BYTES: usize = 1_500_000;

fn answered(question: &Value) -> Value {
    serde_json::from_str(&answer(&question.to_string())).expect("the core answers in JSON")
}

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
    assert_eq!(lines.len(), 53);

    let folder = std::env::temp_dir().join(format!("tober-bytes-{}", std::process::id()));
    fs::create_dir_all(&folder).expect("a folder for the test");
    let (asked, said) = (folder.join("questions"), folder.join("answers"));
    fs::write(&asked, lines.join("\n")).expect("the questions are written");
    let node = Command::new("node")
        .args([
            "--no-warnings".as_ref(),
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
    let (file, thumb) = (answered(&question(&texts, None)), answered(&question(&texts, Some(typed()))));
    assert_eq!(file["plan"]["legs"].as_array().map(Vec::len), Some(6));
    assert_eq!(file["plan"]["legs"], thumb["plan"]["legs"]);
}

#[test]
fn law_a_blank_is_never_filled_in() {
    for (leg, _) in TAPES {
        let mut readings = typed();
        readings["legs"].as_object_mut().expect("legs").remove(leg);
        let answer = answered(&question(&meadow(), Some(readings)));
        let plan = &answer["plan"];
        assert_eq!(plan["legs"].as_array().map(Vec::len), Some(0), "no packing without the reading at {leg}");
        assert_eq!(plan["standing"], "not-known");
        assert!(answer["html"].as_str().is_some_and(|html| html.contains("Not known")));
    }
}

#[test]
fn refuse_what_is_typed_past_its_field() {
    for nonsense in
        ["eight hundred", "800", "1 mm\" }, { leg = \"rear left", "<script>alert(1)</script>", "\\", "1 kg"]
    {
        let mut readings = typed();
        readings["legs"]["rear left"] = json!(nonsense);
        let answer = answered(&question(&meadow(), Some(readings)));
        assert!(answer["plan"].is_null(), "{nonsense}");
        let wrong = answer["wrong"].as_array().expect("what is wrong");
        assert!(wrong.iter().any(|one| one["message"].as_str().is_some_and(|m| !m.is_empty())), "{nonsense}");
        assert!(!answer["html"].as_str().expect("said on the page").contains("<script"), "{nonsense}");
    }
    assert!(answered(&json!("nonsense"))["refused"].is_string());
    assert!(answered(&json!({ "do": "dance" }))["refused"].is_string());
    assert!(answer("{").contains("not JSON"));
}

#[test]
fn law_the_file_is_small_whole_and_readable_without_script() {
    let page = page(&meadow()).expect("the demo has a page");
    assert!(page.len() < MOST_BYTES, "{} bytes", page.len());
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
