//! The same work for many things on every core, the results in the order of the things.

use std::num::NonZero;
use std::panic::resume_unwind;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::thread::{Builder, available_parallelism, scope};

/// What the work makes of each, in their order, whoever did it.
///
/// This thread works too: where the system gives no other one, it does all of it. A panic of one is
/// one of all.
pub(crate) fn side_by_side<T: Sync, R: Send>(
    things: &[T],
    work: impl Fn(&T) -> R + Sync,
) -> Vec<R> {
    on(
        available_parallelism().map_or(1, NonZero::get),
        things,
        work,
    )
}

fn on<T: Sync, R: Send>(threads: usize, things: &[T], work: impl Fn(&T) -> R + Sync) -> Vec<R> {
    let next = AtomicUsize::new(0);
    let take_all = || {
        let mut done = Vec::new();
        loop {
            let index = next.fetch_add(1, Ordering::Relaxed);
            let Some(thing) = things.get(index) else {
                return done;
            };
            done.push((index, work(thing)));
        }
    };
    let mut done = scope(|scope| {
        let helpers = 1..threads.min(things.len());
        let spawned = helpers.map_while(|_| Builder::new().spawn_scoped(scope, take_all).ok());
        let spawned: Vec<_> = spawned.collect();
        let mut done = take_all();
        for helper in spawned {
            match helper.join() {
                Ok(more) => done.extend(more),
                Err(panic) => resume_unwind(panic),
            }
        }
        done
    });
    done.sort_unstable_by_key(|(index, _)| *index);
    done.into_iter().map(|(_, result)| result).collect()
}

#[cfg(test)]
mod tests {
    use std::thread::{sleep, yield_now};
    use std::time::Duration;

    use super::on;

    #[test]
    fn each_is_done_once_and_the_results_are_in_order() {
        for (threads, count) in [(1, 7), (2, 0), (2, 1), (2, 1000), (7, 3), (16, 1000)] {
            let things: Vec<u64> = (0..count).collect();
            let squares = on(threads, &things, |thing| {
                // The first ones take longest.
                if thing % 5 == 0 && *thing < 20 {
                    sleep(Duration::from_millis(20 - thing));
                } else {
                    yield_now();
                }
                thing * thing
            });
            let want: Vec<u64> = things.iter().map(|thing| thing * thing).collect();
            assert_eq!(squares, want);
        }
    }

    #[test]
    fn a_panic_of_one_is_not_swallowed() {
        let things: Vec<u32> = (0..100).collect();
        for threads in [1, 2, 5] {
            let work = || on(threads, &things, |thing| assert_ne!(*thing, 57));
            assert!(std::panic::catch_unwind(work).is_err(), "{threads}");
        }
    }
}
