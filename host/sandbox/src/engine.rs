//! The rules of the house, all of them in [`config`] and [`store`].

use std::thread;
use std::time::Duration;

use wasmtime::{Config, Engine, ResourceLimiter, Store, Trap};

use crate::error::Stopped;
use crate::limits;

/// How often the wall-clock net looks up.
const TICK: Duration = Duration::from_millis(100);
const TICKS: u64 = limits::SECONDS * 10;

/// What contributions may use of WebAssembly.
pub(crate) fn config() -> Config {
    let mut config = Config::new();
    config
        // The same contribution gives the same answer on every machine.
        .consume_fuel(true)
        .cranelift_nan_canonicalization(true)
        .wasm_relaxed_simd(false)
        // For what fuel does not see.
        .epoch_interruption(true)
        .max_wasm_stack(limits::STACK_BYTES)
        // One memory of known size, mapped as small as it is.
        .wasm_memory64(false)
        .wasm_multi_memory(false)
        .memory_reservation(limits::MEMORY_BYTES as u64)
        .memory_reservation_for_growth(0)
        // Nobody has use for where in a contribution a trap happened, and the
        // cache stays small without.
        .generate_address_map(false);
    // Threads and garbage collection are not compiled into this program.
    config
}

/// The engine, with the clock of the wall-clock net.
///
/// # Errors
/// Where the machine cannot run WebAssembly.
pub(crate) fn engine() -> wasmtime::Result<Engine> {
    let engine = Engine::new(&config())?;
    let weak = engine.weak();
    thread::Builder::new().name("sandbox clock".into()).spawn(move || {
        loop {
            thread::sleep(TICK);
            let Some(engine) = weak.upgrade() else { return };
            engine.increment_epoch();
        }
    })?;
    Ok(engine)
}

/// A fresh store for one call.
pub(crate) fn store(engine: &Engine) -> wasmtime::Result<Store<Guard>> {
    let mut store = Store::new(engine, Guard { memory: 0, table: 0 });
    store.limiter(|guard| guard);
    store.set_fuel(limits::INSTRUCTIONS)?;
    store.set_epoch_deadline(TICKS);
    store.set_hostcall_fuel(limits::DATA_BYTES);
    Ok(store)
}

/// Counts what a contribution uses during one call.
pub(crate) struct Guard {
    memory: usize,
    table: usize,
}

impl ResourceLimiter for Guard {
    fn memory_growing(&mut self, current: usize, desired: usize, _: Option<usize>) -> wasmtime::Result<bool> {
        self.memory += desired - current;
        if self.memory > limits::MEMORY_BYTES { Err(Stopped::Memory.into()) } else { Ok(true) }
    }

    fn table_growing(&mut self, current: usize, desired: usize, _: Option<usize>) -> wasmtime::Result<bool> {
        self.table += desired - current;
        if self.table > limits::TABLE_ELEMENTS { Err(Stopped::Table.into()) } else { Ok(true) }
    }

    fn instances(&self) -> usize {
        limits::PARTS
    }

    fn tables(&self) -> usize {
        limits::PARTS
    }

    fn memories(&self) -> usize {
        1
    }
}

/// What stopped a call.
pub(crate) fn stopped(error: &wasmtime::Error) -> Stopped {
    if let Some(stopped) = error.downcast_ref::<Stopped>() {
        return stopped.clone();
    }
    match error.downcast_ref::<Trap>() {
        Some(Trap::OutOfFuel) => Stopped::Instructions,
        Some(Trap::Interrupt) => Stopped::Time,
        Some(Trap::StackOverflow) => Stopped::Stack,
        Some(Trap::UnreachableCodeReached) => Stopped::GaveUp,
        Some(trap) => Stopped::BrokeOff(trap.to_string()),
        None => {
            let why = format!("{error:#}");
            // The library has no type for this one.
            if why.contains("hostcalls has been exhausted") {
                Stopped::Data
            } else {
                Stopped::BrokeOff(crate::text::clean_and_cut(&why, 200))
            }
        }
    }
}
