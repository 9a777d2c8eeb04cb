//! Seeds spread over the processors of this machine.
//!
//! A seed and the threads of its database take turns and never work at once. On one processor a
//! turn is cheap; over two, waking the other one costs more than the work itself.

use std::any::Any;
use std::ops::Range;
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::sync::{Mutex, PoisonError};
use std::thread;

use rustix::thread::{CpuSet, sched_getaffinity, sched_setaffinity};

/// What became of each seed, in the order of the seeds. Tells `said` of each as it ends.
pub fn spread<T: Send>(
    seeds: Range<u64>,
    play: fn(u64) -> T,
    said: impl Fn(u64, &Result<T, String>) + Sync,
) -> Vec<(u64, Result<T, String>)> {
    let (left, ended) = (Mutex::new(seeds), Mutex::new(Vec::new()));
    let next = || left.lock().unwrap_or_else(PoisonError::into_inner).next();
    let work = || {
        while let Some(seed) = next() {
            let end = catch_unwind(AssertUnwindSafe(|| play(seed))).map_err(why);
            said(seed, &end);
            ended.lock().unwrap().push((seed, end));
        }
    };
    thread::scope(|scope| {
        for processor in processors() {
            scope.spawn(move || {
                stay_on(processor);
                work();
            });
        }
    });
    let mut ended = ended.into_inner().unwrap();
    ended.sort_by_key(|(seed, _)| *seed);
    ended
}

/// Those this process may use; `None` stands for whichever there are.
fn processors() -> Vec<Option<usize>> {
    let Ok(allowed) = sched_getaffinity(None) else { return vec![None] };
    let all = (0..CpuSet::MAX_CPU).filter(|processor| allowed.is_set(*processor));
    let most = thread::available_parallelism().map_or(1, usize::from);
    all.take(most).map(Some).collect()
}

/// This thread, and those it starts. Where that cannot be had, it is only slower.
fn stay_on(processor: Option<usize>) {
    let Some(processor) = processor else { return };
    let mut only = CpuSet::new();
    only.set(processor);
    let _ = sched_setaffinity(None, &only);
}

fn why(panic: Box<dyn Any + Send>) -> String {
    let text = panic.downcast_ref::<String>().cloned();
    text.or_else(|| panic.downcast_ref::<&str>().map(|text| (*text).to_owned())).unwrap_or_default()
}
