//! What the README prints is what the command prints.

use std::process::Command;

fn tober(arguments: &[&str]) -> String {
    let out = Command::new(env!("CARGO_BIN_EXE_tober")).args(arguments).output().expect("the command runs");
    String::from_utf8(out.stdout).expect("it prints text")
}

#[test]
fn law_the_plan_in_the_readme_is_the_plan_that_is_printed() {
    let folder = std::env::temp_dir().join(format!("tober-readme-{}", std::process::id()));
    let named = folder.to_str().expect("the folder has a plain name");
    tober(&["demo", named]);
    let printed = tober(&["plan", folder.join("quern-meadow").to_str().expect("a plain name")]);
    std::fs::remove_dir_all(&folder).expect("what was written can be removed");
    let readme = include_str!("../../../README.md");
    let block = readme.split("<!-- plan -->\n```text\n").nth(1).and_then(|rest| rest.split("\n```").next());
    assert_eq!(
        block,
        Some(printed.trim_end()),
        "the README shows another plan than the command prints: run docs/refresh.sh"
    );
}
