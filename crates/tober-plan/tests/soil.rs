//! Bearing capacity in a plan, from the soil's figures in a pitch. The core for phones is built without it.
#![cfg(feature = "command")]

#[path = "demo/books.rs"]
#[allow(dead_code)]
mod books;

use books::{Texts, planned, plover_hard};
use tober_calc::finding::{Finding, Measure, Standing};
use tober_plan::Plan;

const SOIL: &str = "{ by = \"soil\", friction-angle = \"34 deg\", cohesion = \"0 kPa\", density = \"1.9 t/m3\", reference = \"shear box, invented\"METHOD }";

/// The easy pitch with the soil's figures in place of the class of a table.
fn with(method: &str, change: impl Fn(&str) -> String) -> Texts {
    let mut texts = plover_hard();
    let at = texts.pitch.find("basis = ").expect("the ground has a basis");
    let end = at + texts.pitch[at..].find('\n').expect("its line ends");
    texts.pitch.replace_range(at..end, &format!("basis = {}", SOIL.replace("METHOD", method)));
    texts.pitch = change(&texts.pitch);
    texts
}

fn capacities(texts: &Texts) -> Vec<Finding> {
    let plan: Plan = planned(texts).expect("a plan");
    assert!(plan.findings.iter().all(|finding| finding.code != "ground.pressure"), "one of the two speaks");
    plan.findings.into_iter().filter(|finding| finding.code == "ground.capacity").collect()
}

fn limit_pa(finding: &Finding) -> f64 {
    match &finding.measure {
        Measure::AgainstLimit { limit, .. } => limit.si,
        other => panic!("{other:?}"),
    }
}

fn same(text: &str) -> String {
    text.to_owned()
}

/// Without a method the lowest of all decides, so that naming one never asks for less; and that they differ is said.
#[test]
fn law_no_method_allows_less_than_the_lowest() {
    let lowest = capacities(&with("", same));
    assert!(!lowest.is_empty(), "each leg has one");
    for name in ["Terzaghi, older table", "Meyerhof", "Hansen", "Vesic", "EN 1997-1 Annex D"] {
        let named = capacities(&with(&format!(", method = \"{name}\""), same));
        for (named, lowest) in named.iter().zip(&lowest) {
            assert!(limit_pa(named) >= limit_pa(lowest) * (1.0 - 1e-9), "{name}");
            assert!(named.notes.iter().any(|note| note.contains(name) && note.contains("differ")), "{name}");
        }
    }
}

#[test]
fn refuse_soil_of_a_method_or_a_surface_that_nobody_holds_by_leaving_it_not_known() {
    let unheard = capacities(&with(", method = \"by eye\"", same));
    assert!(unheard.iter().all(|finding| finding.standing == Standing::NotKnown));
    assert!(unheard[0].unknown[0].contains("\"Vesic\""), "{:?}", unheard[0].unknown);
    let turf = with("", |pitch| pitch.replace("surface = \"below the topsoil\"", "surface = \"turf\""));
    assert!(capacities(&turf).iter().all(|finding| finding.standing >= Standing::PastLimit));
}

/// Water takes off weight, and weight is all that holds sand: wet ground takes less, and so does ground of whose wetness
/// nothing was said.
#[test]
fn law_wet_ground_takes_less() {
    let dry = capacities(&with("", |pitch| pitch.replace("wet = \"wet\"", "wet = \"dry\"")));
    let wet = capacities(&with("", |pitch| pitch.replace("wet = \"dry\"", "wet = \"wet\"")));
    assert_eq!(dry.len(), wet.len());
    for (dry, wet) in dry.iter().zip(&wet) {
        assert!(limit_pa(wet) < limit_pa(dry), "{} {}", limit_pa(wet), limit_pa(dry));
    }
}
