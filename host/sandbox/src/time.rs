//! The time limit for a call: a safety net for time that instructions do not
//! count. What counts is the time the processor works for the call, so a call
//! that only has to wait, on a busy machine, is never stopped.

use std::io;
use std::thread;
use std::time::Duration;

use wasmtime::{Engine, Store, UpdateDeadline};

/// How often the limit is checked.
const TICK: Duration = Duration::from_millis(100);

/// Lets the engine's epoch advance with every tick, until the engine is dropped.
///
/// # Errors
/// When no thread can be started.
pub(crate) fn start_clock(engine: &Engine) -> io::Result<()> {
    let weak = engine.weak();
    let clock = thread::Builder::new().name("sandbox clock".into());
    clock.spawn(move || {
        loop {
            thread::sleep(TICK);
            let Some(engine) = weak.upgrade() else { return };
            engine.increment_epoch();
        }
    })?;
    Ok(())
}

/// Stops what runs in a store after this much time, counted from now. It must
/// run on this thread.
pub(crate) fn limit<T>(store: &mut Store<T>, most: Duration) {
    let end = processor_time() + most;
    store.set_epoch_deadline(1);
    store.epoch_deadline_callback(move |_| {
        Ok(if processor_time() < end { UpdateDeadline::Continue(1) } else { UpdateDeadline::Interrupt })
    });
}

/// The time that the processor has worked for this thread.
#[cfg(any(target_os = "linux", target_os = "macos"))]
fn processor_time() -> Duration {
    use rustix::time::{ClockId, clock_gettime};
    clock_gettime(ClockId::ThreadCPUTime).try_into().unwrap_or_default()
}

/// Elsewhere the system does not tell, and waiting counts too.
#[cfg(not(any(target_os = "linux", target_os = "macos")))]
fn processor_time() -> Duration {
    static BEGIN: std::sync::LazyLock<std::time::Instant> = std::sync::LazyLock::new(std::time::Instant::now);
    BEGIN.elapsed()
}
