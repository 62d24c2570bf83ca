//! Spreads work over all cores and gives back what came of it in the order of the work, so that
//! nobody can tell how many cores there were.

use std::collections::BTreeMap;
use std::sync::Mutex;
use std::sync::atomic::{AtomicUsize, Ordering};

/// Does the work for each item; what came of each, in the order of the items.
pub(super) fn spread<I: Sync, O: Send>(items: &[I], work: impl Fn(&I) -> O + Sync) -> Vec<O> {
    let (next, done) = (AtomicUsize::new(0), Mutex::new(BTreeMap::new()));
    let worker = || {
        loop {
            let number = next.fetch_add(1, Ordering::Relaxed);
            let Some(item) = items.get(number) else { return };
            let came = work(item);
            if let Ok(mut done) = done.lock() {
                done.insert(number, came);
            }
        }
    };
    let threads = std::thread::available_parallelism().map_or(1, usize::from).min(items.len());
    std::thread::scope(|scope| {
        for _ in 1..threads {
            scope.spawn(worker);
        }
        worker();
    });
    let done = done.into_inner().unwrap_or_else(|poisoned| poisoned.into_inner());
    done.into_values().collect()
}
