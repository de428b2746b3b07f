//! Days of the year, without a clock.

use super::fault::SunFault;
use std::fmt;

/// The year that plans are computed for when none is given. Change-over dates move by at most a day between years.
pub const REFERENCE_YEAR: i32 = 2025;
/// Years for which sun positions are computed here; the published algorithm itself reaches further.
pub const YEARS: std::ops::RangeInclusive<i32> = 1950..=2100;

const BEFORE_MONTH: [u16; 13] = [0, 31, 59, 90, 120, 151, 181, 212, 243, 273, 304, 334, 365];
const MONTHS: [&str; 12] = [
    "January",
    "February",
    "March",
    "April",
    "May",
    "June",
    "July",
    "August",
    "September",
    "October",
    "November",
    "December",
];

/// A day of any common year, written `MM-DD`.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct MonthDay {
    /// Month, 1 to 12.
    pub month: u8,
    /// Day of the month, from 1.
    pub day: u8,
}

impl MonthDay {
    /// The day with this number in a common year; 0 is the first of January, and the count wraps.
    #[must_use]
    pub fn from_index(index: usize) -> Self {
        let index = (index % 365) as u16;
        let month = BEFORE_MONTH.iter().rposition(|before| *before <= index).unwrap_or(0).min(11);
        Self { month: month as u8 + 1, day: (index - BEFORE_MONTH[month] + 1) as u8 }
    }

    /// A month and day that a common year has.
    ///
    /// # Errors
    /// [`SunFault::Date`] for anything else, the 29th of February included.
    pub fn new(month: u8, day: u8) -> Result<Self, SunFault> {
        let length = (1..=12).contains(&month).then(|| days_in_month(2025, month));
        match length {
            Some(length) if (1..=length).contains(&day) => Ok(Self { month, day }),
            _ => Err(SunFault::Date { given: format!("{month:02}-{day:02}") }),
        }
    }

    /// Number of the day in a common year, 0 to 364.
    #[must_use]
    pub fn index(self) -> usize {
        usize::from(BEFORE_MONTH[usize::from(self.month) - 1]) + usize::from(self.day) - 1
    }

    /// In words: `7 March`.
    #[must_use]
    pub fn in_words(self) -> String {
        format!("{} {}", self.day, month_name(self.month))
    }

    /// In the given year.
    #[must_use]
    pub fn in_year(self, year: i32) -> Date {
        Date { year, month: self.month, day: self.day }
    }
}

impl fmt::Display for MonthDay {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{:02}-{:02}", self.month, self.day)
    }
}

/// English name of a month, 1 to 12.
#[must_use]
pub fn month_name(month: u8) -> &'static str {
    MONTHS[usize::from(month.clamp(1, 12)) - 1]
}

/// Number of days of a month.
#[must_use]
pub fn days_in_month(year: i32, month: u8) -> u8 {
    match month {
        2 if is_leap(year) => 29,
        2 => 28,
        4 | 6 | 9 | 11 => 30,
        _ => 31,
    }
}

fn is_leap(year: i32) -> bool {
    (year % 4 == 0 && year % 100 != 0) || year % 400 == 0
}

/// A day of the Gregorian calendar, written `YYYY-MM-DD`.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Date {
    year: i32,
    month: u8,
    day: u8,
}

impl Date {
    /// A day that exists.
    ///
    /// # Errors
    /// [`SunFault::Date`] when the month has no such day, [`SunFault::Year`] outside [`YEARS`].
    pub fn new(year: i32, month: u8, day: u8) -> Result<Self, SunFault> {
        let given = || SunFault::Date { given: format!("{year:04}-{month:02}-{day:02}") };
        if !(1..=12).contains(&month) || !(1..=days_in_month(year, month)).contains(&day) {
            return Err(given());
        }
        if !YEARS.contains(&year) {
            return Err(SunFault::Year { given: year });
        }
        Ok(Self { year, month, day })
    }

    /// A day from its text `YYYY-MM-DD`.
    ///
    /// # Errors
    /// As [`Date::new`].
    pub fn parse(text: &str) -> Result<Self, SunFault> {
        let fault = || SunFault::Date { given: text.chars().take(40).collect() };
        let parts: Vec<&str> = text.trim().split('-').collect();
        let digits =
            |part: &str, most: usize| (1..=most).contains(&part.len()) && part.bytes().all(|b| b.is_ascii_digit());
        match parts.as_slice() {
            [y, m, d] if digits(y, 4) && digits(m, 2) && digits(d, 2) => Self::new(
                y.parse().map_err(|_| fault())?,
                m.parse().map_err(|_| fault())?,
                d.parse().map_err(|_| fault())?,
            ),
            _ => Err(fault()),
        }
    }

    /// The year.
    #[must_use]
    pub fn year(self) -> i32 {
        self.year
    }

    /// The month, 1 to 12.
    #[must_use]
    pub fn month(self) -> u8 {
        self.month
    }

    /// The day of the month, from 1.
    #[must_use]
    pub fn day(self) -> u8 {
        self.day
    }

    /// Number of the day in its year, 1 for the first of January.
    #[must_use]
    pub fn day_of_year(self) -> u16 {
        let leap = u16::from(is_leap(self.year) && self.month > 2);
        BEFORE_MONTH[usize::from(self.month) - 1] + leap + u16::from(self.day)
    }

    /// Julian date of 0 h UTC on this day.
    ///
    /// # Source
    /// Fliegel & Van Flandern, Communications of the ACM 11 (1968) 657, with the day number counted from 0 h.
    #[must_use]
    pub fn julian(self) -> f64 {
        let (y, m, d) = (i64::from(self.year), i64::from(self.month), i64::from(self.day));
        let a = (m - 14) / 12;
        let number =
            d - 32_075 + 1461 * (y + 4800 + a) / 4 + 367 * (m - 2 - a * 12) / 12 - 3 * ((y + 4900 + a) / 100) / 4;
        number as f64 - 0.5
    }
}

impl fmt::Display for Date {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{:04}-{:02}-{:02}", self.year, self.month, self.day)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_day_of_a_common_year_returns() {
        for index in 0..365 {
            assert_eq!(MonthDay::from_index(index).index(), index);
        }
        assert_eq!(MonthDay::from_index(365 + 80).to_string(), "03-22");
    }

    #[test]
    fn julian_dates_follow_the_calendar() {
        // J2000.0 is 2000-01-01 12:00 by definition, Julian date 2451545.0.
        assert_eq!(Date::new(2000, 1, 1).expect("a day").julian(), 2_451_544.5);
        assert_eq!(
            Date::new(2024, 12, 31).expect("a day").julian() + 1.0,
            Date::new(2025, 1, 1).expect("a day").julian()
        );
        assert_eq!(Date::new(2024, 12, 31).expect("a day").day_of_year(), 366);
    }

    #[test]
    fn days_that_do_not_exist_are_refused() {
        for text in ["2025-02-29", "2025-13-01", "2025-00-10", "21.12.2025", "", "2025-1-", "1200-01-01", "2025-06-31"]
        {
            assert!(Date::parse(text).is_err(), "{text}");
        }
        assert!(MonthDay::new(2, 29).is_err());
    }
}
