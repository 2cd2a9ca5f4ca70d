//! The hybrid clock, and the wall time as text. Clocks are passed in; nothing here asks for the time.

use crate::Refused;
use core::fmt;

/// How far before our own clock another's may be before it is not followed: five minutes.
pub const AHEAD_MS_MAX: u64 = 300_000;

/// The greatest time that is written, in ms: within what every program reads as a whole number (2^53).
const L_MAX: u64 = 1 << 53;

/// What the clock says at the moment of an entry.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Now {
    /// Milliseconds since the beginning of 1970, UTC.
    pub ms: i64,
    /// How many minutes the local time is before UTC: 60 in a British summer, -240 in a New York one.
    pub offset_min: i32,
}

/// A hybrid logical clock: `l`, the greatest time seen, in ms since the beginning of 1970, and `c`, which counts where
/// `l` stands still. Later in order is later in cause, for entries of writers who saw each other.
///
/// Source: the algorithm of the paper "Logical Physical Clocks" (2014), as summarised in public. Not unique without a
/// device.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub struct Hlc {
    /// The greatest time seen, ms.
    pub l: u64,
    /// How often `l` stood still.
    pub c: u32,
}

impl Hlc {
    /// The next time on a device: after `own`, its last, and after `seen`, the greatest of others, unless that one is
    /// more than [`AHEAD_MS_MAX`] before this clock.
    ///
    /// l' = max(l_own, l_seen, now); c' = one more than the greatest c among those of `own` and `seen` that have l' for
    /// l, else 0. Strictly after `own` whatever the clock does.
    pub fn tick(own: Option<Self>, seen: Self, now_ms: i64) -> Self {
        let now = u64::try_from(now_ms).unwrap_or(0).min(L_MAX);
        let seen = if seen.l > now.saturating_add(AHEAD_MS_MAX) { None } else { Some(seen) };
        let before = own.into_iter().chain(seen);
        let last = before.max().unwrap_or_default();
        if now > last.l {
            Self { l: now, c: 0 }
        } else if let Some(c) = last.c.checked_add(1) {
            Self { l: last.l, c }
        } else {
            Self { l: last.l + 1, c: 0 }
        }
    }

    pub(crate) fn check(self) -> Result<(), Refused> {
        if self.l > L_MAX {
            return Err(Refused::new("the time l", &self.l.to_string(), "at most 2^53 ms"));
        }
        Ok(())
    }
}

impl fmt::Display for Hlc {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}.{}", self.l, self.c)
    }
}

const DAY_MS: i64 = 86_400_000;

/// The wall time as RFC 3339 text to the second, with its offset: "2026-05-09T05:41:07+01:00".
///
/// The day is worked out in the Gregorian calendar, years 0000 to 9999; a clock outside them is shown at the nearest
/// end. Seconds are cut, not rounded. An offset past a day is not one and is shown as 0.
pub fn wall_text(now: Now) -> String {
    let offset = if now.offset_min.unsigned_abs() < 1440 { now.offset_min } else { 0 };
    let local =
        now.ms.saturating_add(i64::from(offset) * 60_000).clamp(-62_167_219_200_000, 253_402_300_799_999);
    let (year, month, day) = civil(local.div_euclid(DAY_MS));
    let second = local.rem_euclid(DAY_MS) / 1000;
    let (sign, minutes) = (if offset < 0 { '-' } else { '+' }, offset.unsigned_abs());
    format!(
        "{year:04}-{month:02}-{day:02}T{:02}:{:02}:{:02}{sign}{:02}:{:02}",
        second / 3600,
        second / 60 % 60,
        second % 60,
        minutes / 60,
        minutes % 60
    )
}

/// Year, month and day of a count of days since 1970-01-01.
///
/// Counted in years that begin on the first of March, so that the odd day comes last; 146 097 days are 400 years.
fn civil(days: i64) -> (i64, i64, i64) {
    let days = days + 719_468;
    let (era, of_era) = (days.div_euclid(146_097), days.rem_euclid(146_097));
    let year_of_era = (of_era - of_era / 1460 + of_era / 36_524 - of_era / 146_096) / 365;
    let of_year = of_era - (365 * year_of_era + year_of_era / 4 - year_of_era / 100);
    let from_march = (5 * of_year + 2) / 153;
    let day = of_year - (153 * from_march + 2) / 5 + 1;
    let month = if from_march < 10 { from_march + 3 } else { from_march - 9 };
    (era * 400 + year_of_era + i64::from(month <= 2), month, day)
}

/// Whether a text is a time of RFC 3339 with its offset, as [`wall_text`] writes it (fractions of a second allowed).
pub(crate) fn is_wall(text: &str) -> bool {
    let bytes = text.as_bytes();
    let pattern = |from: usize, shape: &str| {
        bytes.get(from..from + shape.len()).is_some_and(|part| {
            part.iter().zip(shape.bytes()).all(|(byte, want)| match want {
                b'0' => byte.is_ascii_digit(),
                b'+' => matches!(byte, b'+' | b'-'),
                other => *byte == other,
            })
        })
    };
    let number = |from: usize| text.get(from..from + 2).and_then(|two| two.parse::<u32>().ok()).unwrap_or(99);
    if !pattern(0, "0000-00-00T00:00:00") {
        return false;
    }
    let mut at = 19;
    if bytes.get(at) == Some(&b'.') {
        let digits = bytes[at + 1..].iter().take_while(|byte| byte.is_ascii_digit()).count();
        if digits == 0 || digits > 9 {
            return false;
        }
        at += 1 + digits;
    }
    let offset = &bytes[at..];
    let offset_good = offset == b"Z"
        || (offset.len() == 6 && pattern(at, "+00:00") && number(at + 1) < 24 && number(at + 4) < 60);
    offset_good
        && (1..=12).contains(&number(5))
        && (1..=31).contains(&number(8))
        && number(11) < 24
        && number(14) < 60
        && number(17) <= 60
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn truth_wall_times_of_known_moments() {
        // Counts of seconds since 1970 that are printed in public: the billionth second (2001-09-09 01:46:40 UTC), the
        // last one of a signed 32-bit count (2038-01-19 03:14:07 UTC), and the beginning itself.
        for (ms, offset_min, text) in [
            (0, 0, "1970-01-01T00:00:00+00:00"),
            (1_000_000_000_000, 0, "2001-09-09T01:46:40+00:00"),
            (2_147_483_647_000, 0, "2038-01-19T03:14:07+00:00"),
            (951_782_400_000, 0, "2000-02-29T00:00:00+00:00"),
            (1_000_000_000_000, -240, "2001-09-08T21:46:40-04:00"),
            (1_000_000_000_999, 345, "2001-09-09T07:31:40+05:45"),
            (-1, 0, "1969-12-31T23:59:59+00:00"),
        ] {
            assert_eq!(wall_text(Now { ms, offset_min }), text);
        }
    }

    #[test]
    fn law_every_day_follows_the_one_before_it() {
        // 400 years and a day: each day is the next one of its month, or the first of the next month.
        let mut last = civil(-719_468 - 1);
        for day in -719_468..-719_468 + 146_098 {
            let this = civil(day);
            let next_day = this == (last.0, last.1, last.2 + 1);
            let next_month = this == (last.0, last.1 + 1, 1) || (last.1 == 12 && this == (last.0 + 1, 1, 1));
            let long = match last.1 {
                2 if last.0 % 4 == 0 && (last.0 % 100 != 0 || last.0 % 400 == 0) => 29,
                2 => 28,
                4 | 6 | 9 | 11 => 30,
                _ => 31,
            };
            assert!(if last.2 < long { next_day } else { next_month }, "{last:?} then {this:?}");
            last = this;
        }
    }

    #[test]
    fn law_a_wall_time_that_is_written_is_one_that_is_read() {
        for ms in [0, -1, i64::MIN, i64::MAX, 1_778_306_467_123] {
            for offset_min in [0, 60, -240, 1439, -1439, 1440, i32::MIN] {
                let text = wall_text(Now { ms, offset_min });
                assert!(is_wall(&text), "{text}");
            }
        }
        for odd in [
            "",
            "2026-05-09",
            "2026-05-09T05:41:07",
            "2026-13-09T05:41:07Z",
            "2026-05-09T24:41:07Z",
            "2026-05-09 05:41:07Z",
            "2026-05-09T05:41:07.Z",
            "2026-05-09T05:41:07+1:00",
            "2026-05-09T05:41:07+01:00 ",
        ] {
            assert!(!is_wall(odd), "{odd}");
        }
        assert!(is_wall("2026-05-09T05:41:07.25Z"));
    }
}
