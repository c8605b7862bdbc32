//! Work shared over threads, the results in the order of the work.

use std::num::NonZeroUsize;
use std::sync::Mutex;

/// Threads this machine runs at once.
pub fn cores() -> NonZeroUsize {
    std::thread::available_parallelism().unwrap_or(NonZeroUsize::MIN)
}

/// Does `work` for every item on so many threads; the results come in the order of the items.
///
/// A panic in `work` goes on in the caller.
pub(super) fn in_order<T: Send, R: Send>(
    items: Vec<T>,
    threads: NonZeroUsize,
    work: impl Fn(T) -> R + Sync,
) -> Vec<R> {
    let threads = threads.get().min(items.len());
    if threads <= 1 {
        return items.into_iter().map(work).collect();
    }
    let queue = Mutex::new(items.into_iter().enumerate());
    let next = || queue.lock().ok().and_then(|mut queue| queue.next());
    let mut results: Vec<(usize, R)> = std::thread::scope(|scope| {
        let worker = || {
            let done = std::iter::from_fn(next).map(|(place, item)| (place, work(item)));
            done.collect::<Vec<_>>()
        };
        let mut workers = Vec::with_capacity(threads);
        for _ in 0..threads {
            workers.push(scope.spawn(worker));
        }
        let joined = workers.into_iter().flat_map(|worker| {
            worker
                .join()
                .unwrap_or_else(|fault| std::panic::resume_unwind(fault))
        });
        joined.collect()
    });
    results.sort_by_key(|(place, _)| *place);
    results.into_iter().map(|(_, result)| result).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_order_is_that_of_the_items() {
        let items: Vec<u64> = (0..100).collect();
        let wanted: Vec<u64> = items.iter().map(|n| n * n).collect();
        for threads in [1, 2, 7, 200] {
            let threads = NonZeroUsize::new(threads).unwrap();
            let done = in_order(items.clone(), threads, |n| {
                // Later items are done sooner.
                std::thread::sleep(std::time::Duration::from_micros(100 - n));
                n * n
            });
            assert_eq!(done, wanted);
        }
        assert!(in_order(Vec::<u8>::new(), NonZeroUsize::MIN, |n| n).is_empty());
    }
}
