//! Rolls that stand in line, called into loads whose counts are settled: each load begins with the first that
//! still waits, and of the loads that have room for it the one goes next that calls the earliest.

use std::collections::VecDeque;

use super::tank::Counts;

/// The loads, each as the places of its rolls in `order`, which has the size of each.
pub(super) fn in_line(order: &[usize], mut loads: Vec<(Counts, u32)>) -> Vec<Vec<usize>> {
    let sizes = loads.first().map_or(0, |(counts, _)| counts.len());
    let mut lines: Vec<VecDeque<usize>> = vec![VecDeque::new(); sizes];
    for (at, size) in order.iter().enumerate() {
        lines.get_mut(*size).expect("each size has its line").push_back(at);
    }
    let mut called = Vec::new();
    loop {
        let firsts = lines.iter().enumerate().filter_map(|(size, line)| Some((*line.front()?, size)));
        let Some((_, first)) = firsts.min() else { return called };
        let fitting = loads
            .iter()
            .enumerate()
            .filter(|(_, (counts, times))| *times > 0 && counts.get(first).is_some_and(|count| *count > 0));
        let next = fitting.map(|(which, (counts, _))| (calls(&lines, counts), which)).min();
        let (mut places, which) = next.expect("every roll is in one of the loads");
        places.pop();
        let (counts, times) = loads.get_mut(which).expect("it is one of them");
        *times -= 1;
        for (line, count) in lines.iter_mut().zip(counts) {
            line.drain(..line.len().min(*count as usize));
        }
        called.push(places);
    }
}

/// The places that a load would call, in the order of the line, and past them one that is later than all, so that
/// of two loads that begin alike the larger is the earlier.
fn calls(lines: &[VecDeque<usize>], counts: &[u32]) -> Vec<usize> {
    let each = lines.iter().zip(counts).flat_map(|(line, count)| line.iter().take(*count as usize));
    let mut places: Vec<usize> = each.copied().collect();
    places.sort_unstable();
    places.push(usize::MAX);
    places
}
