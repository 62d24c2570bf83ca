//! Spreads work over all cores while it is still being found, and hands on what came of it in the order
//! of the work, so that nobody can tell how many cores there were.

use std::collections::VecDeque;
use std::sync::Mutex;
use std::sync::mpsc::{Sender, channel};

/// So many pieces of work for each core are begun before the first of them has to be done: what comes of
/// them waits for its turn, and is all that is held.
const AHEAD: usize = 3;

/// Does the work for each item on other threads; this one finds the items and takes what came of them.
pub(super) fn spread<I: Send, O: Send>(
    items: impl Iterator<Item = I>,
    work: impl Fn(I) -> O + Sync,
    mut take: impl FnMut(O),
) {
    let mut items = items.fuse().peekable();
    let Some(first) = items.next() else { return };
    // For a single piece of work no thread is worth its room.
    if items.peek().is_none() {
        return take(work(first));
    }
    let items = std::iter::once(first).chain(items);
    let cores = std::thread::available_parallelism().map_or(1, usize::from);
    let (give, given) = channel::<(I, Sender<O>)>();
    let given = Mutex::new(given);
    let worker = || {
        // Whoever waits for an item holds the lock, and the others wait for the lock.
        let next = || given.lock().ok()?.recv().ok();
        while let Some((item, came)) = next() {
            let _ = came.send(work(item));
        }
    };
    std::thread::scope(|scope| {
        let mut under_way = VecDeque::new();
        for (number, item) in items.enumerate() {
            if number < cores {
                scope.spawn(worker);
            }
            let (came, comes) = channel();
            let _ = give.send((item, came));
            under_way.push_back(comes);
            if under_way.len() > cores * AHEAD {
                under_way.pop_front().and_then(|first| first.recv().ok()).into_iter().for_each(&mut take);
            }
        }
        drop(give);
        under_way.into_iter().filter_map(|comes| comes.recv().ok()).for_each(&mut take);
    });
}
