//! The day by the system's clock and zone. A clock far out of order is told in a sentence: every change is written down
//! with its day.

use jiff::civil::Date;
use jiff::tz::TimeZone;
use jiff::{SignedDuration, Timestamp};
use std::sync::OnceLock;
use std::time::{SystemTime, UNIX_EPOCH};

/// What the clock shows cannot be a day of today.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
pub enum ClockError {
    /// Before it counts.
    #[error("this machine's clock is before the year 1970: set it right, since each change carries its day")]
    Before1970,
    /// Past what dates are written for.
    #[error("this machine's clock is past the year 9999: set it right, since each change carries its day")]
    Past9999,
}

/// The clock of this process, where it is not the system's.
static STAND_IN: OnceLock<SystemTime> = OnceLock::new();

/// Has this process take its clock to stand still: for one that tries what a wrong clock does. Once only, and before
/// anything asks for the day; true where it counts.
pub fn stand_in(moment: SystemTime) -> bool {
    STAND_IN.set(moment).is_ok()
}

/// The day.
///
/// # Errors
/// A sentence where the clock is far out of order.
pub fn today() -> Result<Date, ClockError> {
    day_of(STAND_IN.get().copied().unwrap_or_else(SystemTime::now), TimeZone::system())
}

fn day_of(moment: SystemTime, zone: TimeZone) -> Result<Date, ClockError> {
    let since = moment.duration_since(UNIX_EPOCH).map_err(|_| ClockError::Before1970)?;
    let since = SignedDuration::try_from(since).map_err(|_| ClockError::Past9999)?;
    let at = Timestamp::from_duration(since).map_err(|_| ClockError::Past9999)?;
    Ok(at.to_zoned_datetime(zone).date())
}

#[cfg(test)]
mod tests {
    use super::*;
    use jiff::civil::date;
    use std::time::Duration;

    fn day(seconds: u64) -> Result<Date, ClockError> {
        day_of(UNIX_EPOCH + Duration::from_secs(seconds), TimeZone::UTC)
    }

    #[test]
    fn each_second_has_a_day_or_a_sentence() {
        // Seconds since the epoch by the proleptic Gregorian calendar: 2026-03-02 is day 20,514 (from memory, checked by
        // counting 56 years with 14 leap days, 31 and 28 days more, and one).
        assert_eq!(day(20_514 * 86_400), Ok(date(2026, 3, 2)));
        assert_eq!(day(0), Ok(date(1970, 1, 1)));
        assert_eq!(day_of(UNIX_EPOCH - Duration::from_secs(1), TimeZone::UTC), Err(ClockError::Before1970));
        // The year 10,000 begins 253,402,300,800 s after the epoch.
        assert!(day(253_402_200_000).is_ok());
        for past in [253_402_300_800, 253_402_300_800 + 86_400, 1 << 39, 1 << 62] {
            // Some systems' clocks do not go that far.
            let Some(moment) = UNIX_EPOCH.checked_add(Duration::from_secs(past)) else { continue };
            assert_eq!(day_of(moment, TimeZone::UTC), Err(ClockError::Past9999));
        }
    }
}
