//! The demo ride with its frame as beams: the loads of its legs are those of a frame that bends.

#[path = "demo/books.rs"]
#[allow(dead_code)]
mod books;

use books::{Texts, planned, plover_hard};
use tober_calc::finding::{Finding, Measure};
use tober_plan::Plan;

/// A printed band is rounded to this, low end down and high end up.
const STEP_T: f64 = 0.1;

/// Two rails with outriggers to the six legs. `stiffer` times a rail of I = 80e6 mm⁴.
fn with_beams(stiffer: f64, torsion: bool) -> Texts {
    let mut texts = plover_hard();
    let mut beams = String::from("stiffness = \"beams\"\n");
    texts.ride = texts.ride.replacen("stiffness = \"rigid\"\n", &beams, 1);
    beams.clear();
    let mut node = |name: &str, x: f64, y: f64| {
        beams.push_str(&format!("\n[[frame.node]]\nname = \"{name}\"\nat = [\"{x} m\", \"{y} m\"]\n"));
    };
    for (n, x, out) in [(1, 0.6, 1.9), (2, 4.5, 2.3), (3, 8.4, 1.9)] {
        node(&format!("l{n}"), x, 1.0);
        node(&format!("r{n}"), x, -1.0);
        node(&format!("ol{n}"), x, out);
        node(&format!("or{n}"), x, -out);
    }
    let mut member = |from: &str, to: &str| {
        let twist =
            format!("shear-modulus = \"81000 N/mm2\"\ntorsion-constant = \"{} cm4\"\n", 60.0 * stiffer);
        let twist = if torsion { twist } else { String::new() };
        beams.push_str(&format!(
            "\n[[frame.member]]\nfrom = \"{from}\"\nto = \"{to}\"\nelasticity = \"210000 N/mm2\"\nsecond-moment = \"{} cm4\"\n{twist}",
            8000.0 * stiffer
        ));
    };
    for n in 1..4 {
        member(&format!("l{n}"), &format!("r{n}"));
        member(&format!("l{n}"), &format!("ol{n}"));
        member(&format!("r{n}"), &format!("or{n}"));
    }
    for n in 1..3 {
        member(&format!("l{n}"), &format!("l{}", n + 1));
        member(&format!("r{n}"), &format!("r{}", n + 1));
    }
    let at = texts.ride.find("\n[[frame.axle]]").expect("it has axles");
    texts.ride.insert_str(at, &beams);
    texts
}

fn loads(plan: &Plan) -> Vec<&Finding> {
    plan.findings.iter().filter(|f| f.code == "supports.load").collect()
}

fn bands_t(plan: &Plan) -> Vec<(String, f64, f64)> {
    let mut bands: Vec<(String, f64, f64)> = loads(plan)
        .iter()
        .filter_map(|f| match &f.measure {
            Measure::AgainstLimit { low, high, .. } => {
                Some((f.subject.to_string(), low.si / 1000.0, high.si / 1000.0))
            }
            _ => None,
        })
        .collect();
    bands.sort_by(|a, b| a.0.cmp(&b.0));
    bands
}

#[test]
fn law_a_frame_of_very_stiff_beams_is_the_rigid_one_and_a_soft_one_is_not() {
    let rigid = planned(&plover_hard()).expect("sound");
    let stiff = planned(&with_beams(1000.0, true)).expect("sound");
    let soft = planned(&with_beams(0.05, true)).expect("sound");
    let (rigid, stiff_bands, soft) = (bands_t(&rigid), bands_t(&stiff), bands_t(&soft));
    assert_eq!((rigid.len(), stiff_bands.len(), soft.len()), (6, 6, 6));
    for (a, b) in rigid.iter().zip(&stiff_bands) {
        // One step of rounding either way.
        assert!((a.1 - b.1).abs() <= STEP_T * 1.01 && (a.2 - b.2).abs() <= STEP_T * 1.01, "{a:?} {b:?}");
    }
    assert!(rigid.iter().zip(&soft).any(|(a, b)| (a.2 - b.2).abs() > 2.0 * STEP_T), "{rigid:?} {soft:?}");
    for finding in loads(&stiff) {
        assert!(finding.notes.iter().any(|note| note.contains("beams")), "{:?}", finding.notes);
    }
}

#[test]
fn refuse_beams_of_which_too_little_is_known_by_leaving_the_loads_not_known() {
    let twistless = planned(&with_beams(1.0, false)).expect("sound");
    let found = loads(&twistless);
    assert_eq!((found.len(), bands_t(&twistless).len()), (6, 0));
    assert!(found.iter().all(|f| f.notes.iter().any(|n| n.contains("torsion-constant"))
        || format!("{f:?}").contains("torsion-constant")));
    let mut texts = with_beams(1.0, true);
    texts.ride = texts.ride.replace(
        "name = \"ol1\"\nat = [\"0.6 m\", \"1.9 m\"]",
        "name = \"ol1\"\nat = [\"0.6 m\", \"1.6 m\"]",
    );
    let short = planned(&texts).expect("sound");
    assert!(bands_t(&short).is_empty());
    assert!(format!("{:?}", loads(&short)).contains("no beam is over it"));
}
