//! Knowing less never helps: no key that is left out and no tolerance that is widened makes a finding better.

use crate::books::{Texts, planned, plover_hard, quern_meadow};
use crate::wheel::{kestrel_yard, sallow_green};
use std::collections::BTreeMap;
use tober_calc::finding::{Finding, Standing};
use tober_plan::Plan;

/// Binary noise of two ways to one number, as a share of it.
const NOISE: f64 = 1e-9;

type Named<'a> = BTreeMap<(String, String, String), Vec<&'a Finding>>;

fn by_name(plan: &Plan) -> Named<'_> {
    let mut named: Named<'_> = BTreeMap::new();
    for finding in &plan.findings {
        // Whether a foot may be light is one question, whose answer is in its title.
        let title = if finding.code == "supports.light" { "" } else { &finding.title };
        let name = (finding.code.to_owned(), finding.subject.to_string(), title.to_owned());
        named.entry(name).or_default().push(finding);
    }
    named
}

fn good(standing: Standing) -> bool {
    matches!(standing, Standing::Inside | Standing::Close)
}

/// What got better from one plan to another, in which less is known. A finding is better when it is inside or
/// close and was worse before, or when it uses less of its limit. One that is gone, or not known, is no better.
pub fn better(before: &Plan, after: &Plan) -> Vec<String> {
    let (known, less) = (by_name(before), by_name(after));
    let mut found = Vec::new();
    for (name, now) in &less {
        let then = known.get(name).map_or(&[][..], Vec::as_slice);
        for finding in now.iter().filter(|f| good(f.standing)) {
            let worst_then = then.iter().map(|f| f.standing).max();
            let Some(worst_then) = worst_then else {
                found.push(format!("{name:?} is {} and was not there before", finding.standing));
                continue;
            };
            if finding.standing < worst_then {
                found.push(format!("{name:?} was {worst_then} and is {}", finding.standing));
            }
            let used = |f: &Finding| f.share().map(f64::from);
            let most_then = then.iter().filter_map(|f| used(f)).fold(0.0, f64::max);
            if let Some(share) = used(finding)
                && share < most_then * (1.0 - NOISE)
            {
                found.push(format!("{name:?} used {most_then} % and uses {share} %"));
            }
        }
    }
    found
}

/// Every text that comes of leaving out one `key = value`, which may run over several lines, or one table of a
/// list, one after the other. Keys that must be there make files that are refused, and are passed over.
pub fn without_one_key(text: &str) -> Vec<(String, String)> {
    let lines: Vec<&str> = text.lines().collect();
    let mut out = Vec::new();
    let mut section = String::new();
    let mut at = 0;
    while at < lines.len() {
        let line = lines[at].trim();
        if line.starts_with('[') && line.ends_with(']') {
            section = line.to_owned();
            at += 1;
            continue;
        }
        let Some((key, value)) = line.split_once(" = ").filter(|(key, _)| !key.starts_with(['#', '{']))
        else {
            at += 1;
            continue;
        };
        let mut last = at;
        if value.starts_with('[') && !value.ends_with(']') {
            while lines[last].trim() != "]" {
                last += 1;
            }
        }
        let rest: Vec<&str> = lines[..at].iter().chain(&lines[last + 1..]).copied().collect();
        out.push((format!("{section} {key}"), rest.join("\n")));
        out.extend(without_inline_key(&lines, at, &section));
        at = last + 1;
    }
    out
}

/// The same for the keys of a table written on one line.
fn without_inline_key(lines: &[&str], at: usize, section: &str) -> Vec<(String, String)> {
    let line = lines[at];
    let (Some(open), Some(close)) = (line.find("{ "), line.rfind(" }")) else { return Vec::new() };
    if line.matches('{').count() != 1 {
        return Vec::new();
    }
    let parts: Vec<&str> = line[open + 2..close].split(", ").collect();
    let one = |skip: usize| {
        let kept: Vec<&str> = parts.iter().enumerate().filter(|(i, _)| *i != skip).map(|(_, p)| *p).collect();
        let line = format!("{}{}{}", &line[..open + 2], kept.join(", "), &line[close..]);
        let mut all: Vec<&str> = lines.to_vec();
        all[at] = &line;
        (format!("{section} {}", parts[skip]), all.join("\n"))
    };
    (0..parts.len()).map(one).collect()
}

/// Every text that comes of leaving out a whole section such as `[limits]`, or every table of one list.
pub fn without_one_section(text: &str) -> Vec<(String, String)> {
    let head = |line: &str| {
        let line = line.trim();
        (line.starts_with('[') && line.ends_with(']')).then(|| line.trim_matches(['[', ']']).to_owned())
    };
    let mut names: Vec<String> = text.lines().filter_map(head).collect();
    names.sort();
    names.dedup();
    // Guys and ballast are things and no knowledge of them: what is not there loads no leg. That they help where they hold
    // is a law of its own, beside these tests.
    names.retain(|name| !matches!(name.as_str(), "guy" | "ballast"));
    let without = |name: &String| {
        let mut inside = false;
        let kept = text.lines().filter(|line| {
            if let Some(section) = head(line) {
                inside = section == *name || section.starts_with(&format!("{name}."));
            }
            !inside
        });
        (format!("[{name}]"), kept.collect::<Vec<_>>().join("\n"))
    };
    names.iter().map(without).collect()
}

fn check(name: &str, texts: &Texts, changed: impl Fn(&str) -> Vec<(String, String)>, least: usize) {
    let before = planned(texts).expect("the demo is sound");
    let (mut tried, mut refused) = (0, 0);
    let mut complaints = Vec::new();
    type Put = fn(&mut Texts, String);
    let files: [(&str, &str, Put); 4] = [
        ("ride.toml", &texts.ride, |t, text| t.ride = text),
        ("kit.toml", &texts.kit, |t, text| t.kit = text),
        ("pitch.toml", &texts.pitch, |t, text| t.pitch = text),
        ("visit.toml", &texts.visit, |t, text| t.visit = text),
    ];
    for (file, text, put) in files {
        for (what, less) in changed(text) {
            let mut texts = texts.clone();
            put(&mut texts, less);
            let Ok(after) = planned(&texts) else {
                refused += 1;
                continue;
            };
            tried += 1;
            for complaint in better(&before, &after) {
                complaints.push(format!("{file} {what}: {complaint}"));
            }
        }
    }
    println!("{name}: {tried} plans made, {refused} files refused");
    assert!(tried >= least, "{name}: only {tried} plans were made");
    assert!(
        complaints.is_empty(),
        "{name}: {} things got better:\n{}",
        complaints.len(),
        complaints.join("\n")
    );
}

#[test]
fn law_leaving_out_a_key_improves_no_finding_on_the_easy_pitch() {
    check("easy", &plover_hard(), without_one_key, 300);
}

#[test]
fn law_leaving_out_a_key_improves_no_finding_on_the_hard_pitch() {
    check("hard", &quern_meadow(), without_one_key, 300);
}

#[test]
fn law_leaving_out_a_key_improves_no_finding_of_the_wheel() {
    check("wheel, easy", &kestrel_yard(), without_one_key, 300);
    check("wheel, hard", &sallow_green(), without_one_key, 300);
}

#[test]
fn law_leaving_out_a_section_improves_no_finding() {
    check("wheel, easy", &kestrel_yard(), without_one_section, 8);
    check("wheel, hard", &sallow_green(), without_one_section, 8);
    check("easy", &plover_hard(), without_one_section, 8);
    check("hard", &quern_meadow(), without_one_section, 8);
}

/// Every text that comes of making one `±` three times as wide.
pub fn with_one_wider(text: &str) -> Vec<(String, String)> {
    let mut out = Vec::new();
    for (at, _) in text.match_indices("± ") {
        let rest = &text[at + "± ".len()..];
        let end = rest.find(|c: char| !(c.is_ascii_digit() || c == '.')).unwrap_or(rest.len());
        let Ok(off_by) = rest[..end].parse::<f64>() else { continue };
        let wider = format!("{}± {}{}", &text[..at], off_by * 3.0, &rest[end..]);
        let line = text[..at].lines().count();
        out.push((format!("line {line}"), wider));
    }
    out
}

#[test]
fn law_widening_a_tolerance_improves_no_finding() {
    check("wheel, easy", &kestrel_yard(), with_one_wider, 20);
    check("wheel, hard", &sallow_green(), with_one_wider, 20);
    check("easy", &plover_hard(), with_one_wider, 20);
    check("hard", &quern_meadow(), with_one_wider, 20);
}
