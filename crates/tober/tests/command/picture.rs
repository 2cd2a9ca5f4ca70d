//! `tober picture`.

use crate::folder::{Folder, run, said};
use std::fs;

/// A step by its number and by its name is the same drawing; a step that is not there is answered with what would be right.
#[test]
fn refuse_a_step_that_is_not_there() {
    let demo = Folder::with_demo("picture");
    let visit = demo.path("plover-hard");
    let (one, other) = (demo.path("one.svg"), demo.path("other.svg"));
    for (step, file) in [("30", &one), ("arm C", &other)] {
        let out = run(&["picture", &visit, step, "-o", file]);
        assert_eq!(out.status.code(), Some(0), "{}", said(&out.stderr));
    }
    let read = |file: &str| fs::read_to_string(file).expect("it was written");
    assert_eq!(read(&one), read(&other));
    assert!(read(&one).contains("<title") && read(&one).contains("Lower arm C"));
    let out = run(&["picture", &visit, "arm", "-o", &one]);
    assert_eq!(out.status.code(), Some(2));
    let said = said(&out.stderr);
    assert!(said.contains("no step \"arm\"") && said.contains("1 to 84") && said.contains("arm A"), "{said}");
}
