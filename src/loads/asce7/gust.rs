//! The gust factor and the frequency below which it is void.

use crate::loads::RangeState;

/// Gust-effect factor of a rigid structure, ASCE 7 §26.11.1.
pub const GUST_FACTOR: f64 = 0.85;
/// Lowest fundamental frequency of a rigid structure \[Hz\], ASCE 7 §26.2.
const RIGID_HZ: f64 = 1.0;

/// May the rigid gust factor be used at this fundamental frequency?
///
/// # Units
/// `frequency_hz` \[Hz\].
///
/// # Source
/// ASCE 7-10 §26.2: flexible below 1 Hz. The gust factor of flexible structures (§26.11.5) is not encoded.
#[must_use]
pub fn rigid(frequency_hz: f64) -> RangeState {
    if frequency_hz >= RIGID_HZ {
        RangeState::Published
    } else {
        let found = crate::quantities::number(frequency_hz, 2);
        RangeState::Refused(format!(
            "the frame sways at {found} Hz; below 1 Hz the gust factor 0.85 is void (ASCE 7 §26.2) and gusts may build up the sway"
        ))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_frame_below_one_hertz_is_refused_with_its_frequency() {
        assert!(rigid(1.0).is_published());
        let RangeState::Refused(why) = rigid(0.83) else { panic!("not refused") };
        assert!(why.contains("0.83 Hz"));
        assert!(matches!(rigid(f64::NAN), RangeState::Refused(_)));
    }
}
