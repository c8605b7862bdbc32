//! Work shared over threads: a stream with bounded memory or a list, results in the order of the work.

use std::collections::BTreeMap;
use std::num::NonZeroUsize;
use std::ops::ControlFlow;
use std::sync::{Condvar, Mutex, MutexGuard, PoisonError, mpsc};

/// Threads this machine runs at once.
pub fn cores() -> NonZeroUsize {
    std::thread::available_parallelism().unwrap_or(NonZeroUsize::MIN)
}

/// Does `work` for every item of a list on so many threads; the results come in the order of the
/// items.
///
/// A panic in `work` goes on in the caller.
pub(crate) fn all<T: Send, R: Send>(
    items: Vec<T>,
    threads: NonZeroUsize,
    work: impl Fn(T) -> R + Sync,
) -> Vec<R> {
    let threads = NonZeroUsize::new(threads.get().min(items.len()));
    // A browser has no threads to start: one is enough, then none is started.
    let Some(threads) = threads.filter(|threads| threads.get() > 1) else {
        return items.into_iter().map(work).collect();
    };
    let mut results = Vec::with_capacity(items.len());
    stream(threads, items.len(), items.into_iter(), work, |result| {
        results.push(result);
        ControlFlow::Continue(())
    });
    results
}

/// How far the results have been handed on.
#[derive(Default)]
struct Gate {
    state: Mutex<(usize, bool)>,
    moved: Condvar,
}

impl Gate {
    /// Waits until this place is near enough to the oldest unfinished one; false when all is over.
    fn wait(&self, place: usize, ahead: usize) -> bool {
        let state = self
            .moved
            .wait_while(lock(&self.state), |(done, over)| {
                !*over && place >= *done + ahead
            })
            .unwrap_or_else(PoisonError::into_inner);
        !state.1
    }

    fn set(&self, change: impl FnOnce(&mut (usize, bool))) {
        change(&mut lock(&self.state));
        self.moved.notify_all();
    }
}

/// Ends the waiting of all when a worker panics: its result will never come.
struct Alarm<'a>(&'a Gate);

impl Drop for Alarm<'_> {
    fn drop(&mut self) {
        if std::thread::panicking() {
            self.0.set(|(_, over)| *over = true);
        }
    }
}

fn lock<T>(mutex: &Mutex<T>) -> MutexGuard<'_, T> {
    mutex.lock().unwrap_or_else(PoisonError::into_inner)
}

/// Takes items from `source` one at a time, does `work` on them on so many threads, and hands the
/// results to `sink` in the order of the items, each as soon as its turn has come. No more than
/// `ahead` items are begun before the oldest of them has been handed on, so that memory is bounded.
///
/// Ends when the source does, or when the sink breaks off. A panic in `work` goes on in the caller.
pub(crate) fn stream<T: Send, R: Send>(
    threads: NonZeroUsize,
    ahead: usize,
    source: impl Iterator<Item = T> + Send,
    work: impl Fn(T) -> R + Sync,
    mut sink: impl FnMut(R) -> ControlFlow<()>,
) {
    let gate = Gate::default();
    let source = Mutex::new((0, source.fuse()));
    let (sender, results) = mpsc::channel();
    let worker = |sender: mpsc::Sender<(usize, R)>| {
        let _alarm = Alarm(&gate);
        let next = || {
            let mut source = lock(&source);
            let place = source.0;
            // Nothing is read before there is room for it.
            let item = gate.wait(place, ahead).then(|| source.1.next()).flatten()?;
            source.0 += 1;
            Some((place, item))
        };
        for (place, item) in std::iter::from_fn(next) {
            if sender.send((place, work(item))).is_err() {
                return;
            }
        }
    };
    std::thread::scope(|scope| {
        let worker = &worker;
        let mut workers = Vec::with_capacity(threads.get());
        for _ in 0..threads.get() {
            let sender = sender.clone();
            workers.push(scope.spawn(move || worker(sender)));
        }
        drop(sender);
        let mut waiting = BTreeMap::new();
        let mut turn = 0;
        'all: for (place, result) in results {
            waiting.insert(place, result);
            while let Some(result) = waiting.remove(&turn) {
                turn += 1;
                if sink(result).is_break() {
                    break 'all;
                }
                gate.set(|(done, _)| *done = turn);
            }
        }
        gate.set(|(_, over)| *over = true);
        for worker in workers {
            if let Err(fault) = worker.join() {
                std::panic::resume_unwind(fault);
            }
        }
    });
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::sync::atomic::{AtomicUsize, Ordering};
    use std::time::Duration;

    const AHEAD: usize = 4;

    fn threads(n: usize) -> NonZeroUsize {
        NonZeroUsize::new(n).unwrap()
    }

    #[test]
    fn the_order_is_kept_and_no_more_than_the_window_is_read_ahead() {
        for n in [1, 2, 5] {
            let read = AtomicUsize::new(0);
            let source = (0..300_usize).inspect(|_| {
                read.fetch_add(1, Ordering::SeqCst);
            });
            let mut seen = Vec::new();
            let work = |item: usize| {
                // Some take much longer than their neighbours.
                std::thread::sleep(Duration::from_micros(if item.is_multiple_of(7) {
                    900
                } else {
                    10
                }));
                item
            };
            stream(threads(n), n * AHEAD, source, work, |item| {
                let ahead = read.load(Ordering::SeqCst) - seen.len();
                assert!(ahead <= n * AHEAD, "{ahead} read ahead");
                seen.push(item);
                ControlFlow::Continue(())
            });
            assert_eq!(seen, (0..300).collect::<Vec<_>>());
        }
    }

    #[test]
    fn a_sink_that_breaks_off_ends_an_endless_source() {
        let mut taken = 0;
        stream(
            threads(3),
            3 * AHEAD,
            0_u64..,
            |item| item,
            |_| {
                taken += 1;
                if taken == 10 {
                    ControlFlow::Break(())
                } else {
                    ControlFlow::Continue(())
                }
            },
        );
        assert_eq!(taken, 10);
    }

    #[test]
    #[should_panic(expected = "a fault in the work")]
    fn a_panic_in_the_work_goes_on_in_the_caller() {
        let work = |item: u32| assert!(item != 5, "a fault in the work");
        stream(threads(2), AHEAD, 0_u32.., work, |()| {
            ControlFlow::Continue(())
        });
    }

    #[test]
    fn a_list_keeps_its_order() {
        let items: Vec<u64> = (0..100).collect();
        let wanted: Vec<u64> = items.iter().map(|n| n * n).collect();
        for n in [1, 2, 7, 200] {
            let done = all(items.clone(), threads(n), |n| {
                // Later items are done sooner.
                std::thread::sleep(Duration::from_micros(100 - n));
                n * n
            });
            assert_eq!(done, wanted);
        }
        assert!(all(Vec::<u8>::new(), NonZeroUsize::MIN, |n| n).is_empty());
    }
}
