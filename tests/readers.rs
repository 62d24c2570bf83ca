//! Reads calendars and sound tracks with libraries that did not write them.

use ical::parser::ical::component::{IcalCalendar, IcalEvent};
use ical::property::Property;

pub(crate) fn calendar(text: &str) -> IcalCalendar {
    let mut all: Vec<_> = ical::IcalParser::new(text.as_bytes()).map(Result::unwrap).collect();
    assert_eq!(all.len(), 1);
    all.remove(0)
}

/// The one value of that name.
pub(crate) fn value(properties: &[Property], name: &str) -> String {
    let own: Vec<&Property> = properties.iter().filter(|property| property.name == name).collect();
    assert_eq!(own.len(), 1, "{name}: {properties:?}");
    own[0].value.clone().unwrap()
}

/// The start of an event, and the seconds from there to its alarms.
pub(crate) fn alarms(event: &IcalEvent) -> Vec<(String, String)> {
    let told = event.alarms.iter().map(|alarm| {
        assert_eq!(value(&alarm.properties, "ACTION"), "DISPLAY");
        (value(&alarm.properties, "TRIGGER"), value(&alarm.properties, "DESCRIPTION"))
    });
    told.collect()
}

pub(crate) const RATE: usize = 8000;
/// The window for loudness, 5 ms.
const WINDOW: usize = RATE / 200;

/// Before the first bath, in seconds.
pub(crate) const LEAD_IN: f64 = 5.0;

/// The four signals by their notes: start and length in seconds, pitch in hertz. The rising note goes from 800 to 1600 Hz,
/// so its mean is 1200 Hz.
pub(crate) const WARN: &[(f64, f64, f64)] = &[(0.0, 0.15, 600.0), (1.0, 0.15, 600.0), (2.0, 0.15, 600.0)];
pub(crate) const NOW: &[(f64, f64, f64)] = &[(0.0, 1.2, 1200.0)];
pub(crate) const AGITATE: &[(f64, f64, f64)] = &[(0.0, 0.15, 1200.0), (0.3, 0.15, 1200.0)];
pub(crate) const REST: &[(f64, f64, f64)] = &[(0.0, 0.15, 900.0)];

/// The samples of a track by another reader.
pub(crate) fn samples(bytes: &[u8]) -> Vec<i16> {
    let reader = hound::WavReader::new(bytes).unwrap();
    let spec = reader.spec();
    assert_eq!((spec.channels, spec.sample_rate, spec.bits_per_sample), (1, 8000, 16));
    assert_eq!(spec.sample_format, hound::SampleFormat::Int);
    let count = reader.len() as usize;
    // The reader has found where the samples begin. It takes a second for each hour to read them, one by one.
    let samples: Vec<i16> =
        reader.into_inner().chunks_exact(2).map(|pair| i16::from_le_bytes([pair[0], pair[1]])).collect();
    assert_eq!(samples.len(), count, "the file ends with its last sample");
    samples
}

/// Each tone of a track: its start and length in seconds, and its pitch in hertz by its zero crossings.
pub(crate) fn heard(samples: &[i16]) -> Vec<(f64, f64, f64)> {
    let is_loud = |window: &[i16]| window.iter().any(|sample| sample.unsigned_abs() > 1000);
    let loud: Vec<bool> = samples.chunks(WINDOW).map(is_loud).collect();
    let mut tones = Vec::new();
    let mut at = 0;
    for run in loud.chunk_by(|one, other| one == other) {
        if run[0] {
            let (from, to) = (at * WINDOW, ((at + run.len()) * WINDOW).min(samples.len()));
            let sounding: Vec<i16> =
                samples[from..to].iter().copied().filter(|sample| *sample != 0).collect();
            let crossed = sounding.windows(2).filter(|two| (two[0] < 0) != (two[1] < 0)).count();
            let seconds = (to - from) as f64 / RATE as f64;
            tones.push((from as f64 / RATE as f64, seconds, crossed as f64 / 2.0 / seconds));
        }
        at += run.len();
    }
    tones
}
