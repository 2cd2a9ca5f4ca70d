//! The table of blanks as a spreadsheet hands it back, and the times in it.

use std::collections::BTreeMap;

/// One row: the line in which it begins, and its cells by the head of their column.
pub struct Row {
    pub line: usize,
    cells: BTreeMap<String, String>,
}

impl Row {
    /// A cell, without the spaces around it; empty where there is no such column.
    pub fn cell(&self, head: &str) -> &str {
        self.cells.get(head).map_or("", String::as_str)
    }
}

/// The rows of a table (RFC 4180). Columns stand in any order. The mark between cells is the first comma or semicolon,
/// since spreadsheets write either.
///
/// # Errors
/// A head that is not known, is there twice or is wanted and missing; a row with more or fewer cells than the head; a
/// quotation mark that is not closed.
pub fn rows(named: &str, text: &str, wanted: &[&str], may: &[&str]) -> Result<Vec<Row>, String> {
    let mut all = cells(named, text)?.into_iter();
    let (line, heads) = all.next().ok_or_else(|| {
        format!("{named} is empty. It is the table that `tober sheets --beside` writes beside the PDF.")
    })?;
    let heads: Vec<String> = heads.iter().map(|head| head.trim().to_lowercase()).collect();
    for head in &heads {
        let known = wanted.iter().chain(may).any(|known| known == head);
        if !known || heads.iter().filter(|other| *other == head).count() > 1 {
            let wrong = if known { "is there twice" } else { "is no column of this table" };
            return Err(format!(
                "{named}: line {line}: \"{head}\" {wrong}. The columns are: {}.",
                [wanted, may].concat().join(", ")
            ));
        }
    }
    if let Some(missing) = wanted.iter().find(|wanted| !heads.iter().any(|head| head == *wanted)) {
        return Err(format!(
            "{named}: line {line}: the column \"{missing}\" is missing. The columns are: {}.",
            [wanted, may].concat().join(", ")
        ));
    }
    let mut out = Vec::new();
    for (line, cells) in all {
        if cells.len() != heads.len() {
            return Err(format!(
                "{named}: line {line}: {} cells, and the head has {}. A text with a comma in it stands in quotation marks.",
                cells.len(),
                heads.len()
            ));
        }
        let cells = heads.iter().cloned().zip(cells.iter().map(|cell| plain(cell))).collect();
        out.push(Row { line, cells });
    }
    Ok(out)
}

/// A cell without the spaces around it and the apostrophe that keeps a spreadsheet from taking it for a formula or a number.
fn plain(cell: &str) -> String {
    let cell = cell.trim();
    match cell.strip_prefix('\'') {
        Some(rest) if rest.starts_with(|c: char| "=@+-".contains(c) || c.is_ascii_digit()) => rest.to_owned(),
        _ => cell.to_owned(),
    }
}

/// The cells of every row that is not blank, each with the line in which it begins.
fn cells(named: &str, text: &str) -> Result<Vec<(usize, Vec<String>)>, String> {
    let text = text.strip_prefix('\u{feff}').unwrap_or(text);
    let mark = text.chars().find(|letter| matches!(letter, ',' | ';')).unwrap_or(',');
    let mut all: Vec<(usize, Vec<String>)> = Vec::new();
    let (mut row, mut cell): (Vec<String>, String) = (Vec::new(), String::new());
    let (mut line, mut begun, mut quoted) = (1_usize, 1_usize, false);
    let mut letters = text.chars().chain(['\n']).peekable();
    while let Some(letter) = letters.next() {
        match letter {
            '"' if quoted && letters.peek() == Some(&'"') => {
                letters.next();
                cell.push('"');
            }
            '"' if quoted || cell.is_empty() => quoted = !quoted,
            '\n' if !quoted => {
                row.push(core::mem::take(&mut cell));
                let done = core::mem::take(&mut row);
                if done.iter().any(|cell| !cell.trim().is_empty()) {
                    all.push((begun, done));
                }
                line += 1;
                begun = line;
            }
            '\r' if !quoted => {}
            letter if letter == mark && !quoted => row.push(core::mem::take(&mut cell)),
            letter => {
                line += usize::from(letter == '\n');
                cell.push(letter);
            }
        }
    }
    if quoted {
        return Err(format!(
            "{named}: line {begun}: a quotation mark is opened and not closed. Close it, or write it twice where it is meant."
        ));
    }
    Ok(all)
}

/// When something was looked at.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Looked {
    /// Milliseconds since the beginning of 1970, UTC.
    pub ms: i64,
    /// As it is written in an entry: `2026-05-09T05:41:00+01:00`.
    pub text: String,
}

/// Reads a time with its date and its zone: `2026-05-09 05:41 +01:00`, or as RFC 3339 has it. Seconds may be left out.
///
/// # Errors
/// What is wrong with it, and what would be right.
pub fn time(written: &str) -> Result<Looked, String> {
    let right = "Write date, time and zone, such as 2026-05-09 05:41 +01:00, or Z for UTC.";
    let wrong = |why: &str| format!("\"{written}\" {why}. {right}");
    let text: String = written.trim().replacen(['T', 't'], " ", 1);
    let (day, rest) = text.split_once(' ').ok_or_else(|| wrong("is no date with a time"))?;
    let rest = rest.trim();
    let zone_at = rest.find(['+', '-', '\u{2212}', 'Z', 'z']).ok_or_else(|| wrong("has no zone"))?;
    let (clock, zone) = rest.split_at(zone_at);
    let figures = |text: &str, mark: char| -> Option<Vec<i64>> {
        let whole = |part: &str| {
            let good = (1..=4).contains(&part.len()) && part.bytes().all(|b| b.is_ascii_digit());
            good.then(|| part.parse().ok()).flatten()
        };
        text.trim().split(mark).map(whole).collect()
    };
    let day = figures(day, '-').ok_or_else(|| wrong("begins with no date"))?;
    let [year, month, day] = day[..] else { return Err(wrong("begins with no date")) };
    let (hour, minute, second) = match figures(clock, ':').as_deref() {
        Some(&[hour, minute]) => (hour, minute, 0),
        Some(&[hour, minute, second]) => (hour, minute, second),
        _ => return Err(wrong("has no time of day")),
    };
    let (sign, offset) = match zone.chars().next() {
        Some('Z' | 'z') if zone.len() == 1 => (1, vec![0, 0]),
        Some('+') => (1, figures(&zone[1..], ':').unwrap_or_default()),
        Some(_) => (-1, figures(zone.trim_start_matches(['-', '\u{2212}']), ':').unwrap_or_default()),
        None => (1, Vec::new()),
    };
    let [of_hour, of_minute] = offset[..] else { return Err(wrong("has no zone that can be read")) };
    if !(1970..=9999).contains(&year)
        || !(1..=12).contains(&month)
        || !(1..=days_in(year, month)).contains(&day)
    {
        return Err(wrong("is of no day that there is"));
    }
    if hour > 23 || minute > 59 || second > 59 || of_hour > 14 || of_minute > 59 {
        return Err(wrong("is of no time that there is"));
    }
    let offset = sign * (of_hour * 60 + of_minute);
    let minutes = (days_before(year, month) + day - 1) * 1440 + hour * 60 + minute - offset;
    let mark = if sign < 0 { '-' } else { '+' };
    Ok(Looked {
        ms: (minutes * 60 + second) * 1000,
        text: format!(
            "{year:04}-{month:02}-{day:02}T{hour:02}:{minute:02}:{second:02}{mark}{of_hour:02}:{of_minute:02}"
        ),
    })
}

fn leap(year: i64) -> bool {
    year % 4 == 0 && (year % 100 != 0 || year % 400 == 0)
}

fn days_in(year: i64, month: i64) -> i64 {
    match month {
        2 => 28 + i64::from(leap(year)),
        4 | 6 | 9 | 11 => 30,
        _ => 31,
    }
}

/// Days from the beginning of 1970 to that of a month.
fn days_before(year: i64, month: i64) -> i64 {
    let years: i64 = (1970..year).map(|year| 365 + i64::from(leap(year))).sum();
    years + (1..month).map(|month| days_in(year, month)).sum::<i64>()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn law_a_time_reads_as_the_log_writes_it() {
        for (ms, offset_min) in [(1_778_301_000_000, 60), (951_782_400_000, -210), (4_107_542_399_000, 0)] {
            let text = tober_log::wall_text(tober_log::Now { ms, offset_min });
            assert_eq!(time(&text), Ok(Looked { ms, text: text.clone() }));
        }
    }

    #[test]
    fn hand_a_time_with_a_space_and_no_seconds() {
        // 05:41 an hour before UTC is 04:41 UTC, 41 min after the 04:00 of RFC 3339's own spelling.
        let spelt = time("2026-05-09T04:41:00Z").expect("a time");
        let short = time("2026-05-09 05:41 +01:00").expect("a time");
        assert_eq!((short.ms, short.text.as_str()), (spelt.ms, "2026-05-09T05:41:00+01:00"));
    }

    #[test]
    fn refuse_times_that_are_none() {
        for (written, why) in [
            ("05:41", "is no date with a time"),
            ("2026-05-09 05:41", "has no zone"),
            ("2026-05-09T05:41:00", "has no zone"),
            ("2026-02-29 05:41 Z", "no day that there is"),
            ("2026-05-09 25:41 Z", "no time that there is"),
            ("2026-05-09 05:41 +1", "no zone that can be read"),
            ("09/05/2026 05:41 Z", "begins with no date"),
            ("2026-05-09 early Z", "has no time of day"),
        ] {
            let said = time(written).expect_err("it is none");
            assert!(
                said.contains(why) && said.contains("such as 2026-05-09 05:41 +01:00"),
                "{written}: {said}"
            );
        }
    }

    #[test]
    fn law_a_table_reads_whatever_a_spreadsheet_writes() {
        let heads = ["number", "written"];
        for text in [
            "number,written\r\n3.1,\"two, \"\"three\"\"\"\r\n",
            "\u{feff}Written;Number\n\"two, \"\"three\"\"\";3.1",
        ] {
            let rows = rows("t.csv", text, &heads, &[]).expect("a table");
            assert_eq!(rows.len(), 1);
            assert_eq!((rows[0].line, rows[0].cell("number")), (2, "3.1"));
            assert_eq!(rows[0].cell("written"), "two, \"three\"");
        }
    }

    #[test]
    fn refuse_tables_that_are_none() {
        let heads = ["number", "written"];
        for (text, why) in [
            ("", "is empty"),
            ("number\n", "line 1: the column \"written\" is missing"),
            ("number,written,colour\n", "line 1: \"colour\" is no column"),
            ("number,written,written\n", "line 1: \"written\" is there twice"),
            ("number,written\n\n3.1,a,b\n", "line 3: 3 cells, and the head has 2"),
            ("number,written\n3.1,\"a\n", "line 2: a quotation mark is opened"),
        ] {
            let said = rows("t.csv", text, &heads, &[]).err().expect("it is none");
            assert!(said.contains(why), "{said}");
        }
    }
}
