//! Runs work on many files in batches, on all cores, and returns the results in the order of the files.

use std::collections::VecDeque;
use std::path::PathBuf;
use std::sync::Mutex;
use std::sync::mpsc::{Sender, channel};

/// A batch gets no more files once its files have this many bytes. The limit saves memory: checking a byte of text
/// needs up to 50 bytes.
const BATCH_BYTES: u64 = 512 << 10;
/// The number of batches per core that may start before the oldest batch is done. The limit saves memory, since the
/// results of later batches are kept until the oldest batch is done.
const AHEAD: usize = 3;

/// Groups files lazily into batches of at most `size` files and about `BATCH_BYTES` bytes.
pub(super) fn batches(
    mut files: impl Iterator<Item = PathBuf>,
    size: usize,
) -> impl Iterator<Item = Vec<PathBuf>> {
    std::iter::from_fn(move || {
        let (mut batch, mut bytes) = (Vec::new(), 0);
        while batch.len() < size && bytes < BATCH_BYTES {
            let Some(path) = files.next() else { break };
            bytes += path.metadata().map_or(0, |metadata| metadata.len());
            batch.push(path);
        }
        Some(batch).filter(|batch| !batch.is_empty())
    })
}

/// Calls `work` for each item on worker threads. The calling thread draws the items from the iterator and calls `take`
/// with each result, in the order of the items.
pub(super) fn spread<I: Send, O: Send>(
    items: impl Iterator<Item = I>,
    work: impl Fn(I) -> O + Sync,
    mut take: impl FnMut(O),
) {
    let mut items = items.fuse().peekable();
    let Some(first) = items.next() else { return };
    if items.peek().is_none() {
        return take(work(first));
    }
    let items = std::iter::once(first).chain(items);
    let cores = std::thread::available_parallelism().map_or(1, usize::from);
    let (give, given) = channel::<(I, Sender<O>)>();
    let given = Mutex::new(given);
    let worker = || {
        // One worker waits for an item and holds the lock; the other workers wait for the lock.
        let next = || given.lock().ok()?.recv().ok();
        while let Some((item, result)) = next() {
            let _ = result.send(work(item));
        }
    };
    std::thread::scope(|scope| {
        let mut pending = VecDeque::new();
        for (number, item) in items.enumerate() {
            if number < cores {
                scope.spawn(worker);
            }
            let (send, result) = channel();
            let _ = give.send((item, send));
            pending.push_back(result);
            if pending.len() > cores * AHEAD {
                pending.pop_front().and_then(|first| first.recv().ok()).into_iter().for_each(&mut take);
            }
        }
        drop(give);
        pending.into_iter().filter_map(|result| result.recv().ok()).for_each(&mut take);
    });
}
