//! The engine and its rules for contributions, all of them in [`config`] and
//! [`store`].

use wasmtime::{Config, Engine, OptLevel, ResourceLimiter, Store, Trap};

use crate::costs::costs;
use crate::error::Stopped;
use crate::limits;

/// What contributions may use of WebAssembly.
pub(crate) fn config() -> Config {
    let mut config = Config::new();
    config
        // The same contribution gives the same answer on every machine.
        .consume_fuel(true)
        .operator_cost(costs())
        .cranelift_nan_canonicalization(true)
        .wasm_relaxed_simd(false)
        .max_wasm_stack(limits::STACK_BYTES)
        // One memory of known size, with no more address space than it needs.
        .wasm_memory64(false)
        .wasm_multi_memory(false)
        .memory_reservation(limits::MEMORY_BYTES as u64)
        .memory_reservation_for_growth(0)
        // Memory is filled by copying: an image of it to map would hold an open
        // file for as long as the contribution is loaded.
        .memory_init_cow(false)
        // Running a definition is quick; compiling it is not. Better code takes
        // several times as long to compile, and for hostile functions the time
        // grows with the square of their size.
        .cranelift_opt_level(OptLevel::None)
        // Nobody needs to know where in a contribution a trap happened, and
        // leaving it out keeps the cache small.
        .generate_address_map(false);
    // Threads and garbage collection are not compiled into this program.
    config
}

/// The engine.
///
/// # Errors
/// When the machine cannot run WebAssembly.
pub(crate) fn engine() -> wasmtime::Result<Engine> {
    Engine::new(&config())
}

/// A fresh store for one call.
pub(crate) fn store(engine: &Engine) -> wasmtime::Result<Store<Guard>> {
    let mut store = Store::new(engine, Guard { memory: 0, table: 0 });
    store.limiter(|guard| guard);
    store.set_fuel(limits::INSTRUCTIONS)?;
    store.set_hostcall_fuel(limits::DATA_BYTES);
    Ok(store)
}

/// Tracks what a contribution uses during one call.
pub(crate) struct Guard {
    memory: usize,
    table: usize,
}

impl Guard {
    /// Its current memory in bytes.
    pub fn memory(&self) -> usize {
        self.memory
    }
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

/// Finds out what stopped a call.
pub(crate) fn stopped(error: &wasmtime::Error) -> Stopped {
    if let Some(stopped) = error.downcast_ref::<Stopped>() {
        return stopped.clone();
    }
    match error.downcast_ref::<Trap>() {
        Some(Trap::OutOfFuel) => Stopped::Instructions,
        Some(Trap::StackOverflow) => Stopped::Stack,
        Some(Trap::UnreachableCodeReached) => Stopped::GaveUp,
        Some(trap) => Stopped::BrokeOff(trap.to_string()),
        None => {
            let why = format!("{error:#}");
            // The library has no error type for this one.
            if why.contains("hostcalls has been exhausted") {
                Stopped::Data
            } else {
                Stopped::BrokeOff(catalogue::text::clean_and_cut(&why, 200))
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use wasmtime::component::{Component, Linker};

    use super::*;

    fn component(engine: &Engine, text: &str) -> Component {
        Component::from_binary(engine, &wat::parse_str(text).unwrap()).unwrap()
    }

    /// Calls the exported function `f` in a new store.
    fn call(text: &str, change: impl FnOnce(&mut Store<Guard>)) -> wasmtime::Result<u64> {
        let engine = engine()?;
        let mut store = store(&engine)?;
        change(&mut store);
        let instance = Linker::new(&engine).instantiate(&mut store, &component(&engine, text))?;
        let f = instance.get_typed_func::<(), (u64,)>(&mut store, "f")?;
        Ok(f.call(&mut store, ())?.0)
    }

    #[test]
    fn an_endless_loop_uses_up_its_instructions() {
        let looping = r#"(component
            (core module $m (func (export "f") (result i64) (loop $for_ever (br $for_ever)) unreachable))
            (core instance $i (instantiate $m))
            (func (export "f") (result u64) (canon lift (core func $i "f"))))"#;
        let error = call(looping, |_| {}).unwrap_err();
        assert_eq!(stopped(&error), Stopped::Instructions);
    }

    /// 0/0 has its sign bit set on some machines and not on others. Here it is
    /// always the canonical NaN (WebAssembly core specification, NaN propagation:
    /// sign clear, only the top bit of the payload set), whatever the operands.
    #[test]
    fn nan_is_the_same_everywhere() {
        for operation in [
            "(f64.div (f64.const 0) (f64.const 0))",
            "(f64.sqrt (f64.const -1))",
            "(f64.add (f64.const -nan:0x8000000000001) (f64.const 1))",
            "(f64.promote_f32 (f32.div (f32.const 0) (f32.const 0)))",
        ] {
            let text = format!(
                r#"(component
                    (core module $m (func (export "f") (result i64) (i64.reinterpret_f64 {operation})))
                    (core instance $i (instantiate $m))
                    (func (export "f") (result u64) (canon lift (core func $i "f"))))"#
            );
            assert_eq!(call(&text, |_| {}).unwrap(), 0x7ff8_0000_0000_0000, "{operation}");
        }
    }

    #[test]
    fn there_is_one_memory_and_few_instances() {
        let engine = engine().unwrap();
        let set_up = |memory: &str, instances: usize| {
            let text = format!(
                "(component (core module $m {memory}) {})",
                "(core instance (instantiate $m))".repeat(instances)
            );
            let mut store = store(&engine).unwrap();
            Linker::new(&engine).instantiate(&mut store, &component(&engine, &text)).map(|_| ())
        };
        assert!(set_up("(memory 1)", 1).is_ok());
        assert!(format!("{:#}", set_up("(memory 1)", 2).unwrap_err()).contains("memory count"));
        assert!(set_up("", limits::PARTS).is_ok());
        assert!(format!("{:#}", set_up("", limits::PARTS + 1).unwrap_err()).contains("instance count"));
    }

    #[test]
    fn features_that_differ_by_machine_are_refused() {
        let engine = engine().unwrap();
        let valid = |fields: &str| {
            let bytes = wat::parse_str(format!("(component (core module {fields}))")).unwrap();
            Component::from_binary(&engine, &bytes).map(|_| ()).map_err(|why| format!("{why:#}"))
        };
        assert_eq!(valid("(memory 1)"), Ok(()));
        for (fields, named) in [
            ("(memory 1 1 shared)", "threads"),
            ("(memory 1) (func (drop (i32.atomic.load (i32.const 0))))", "threads"),
            ("(memory i64 1)", "memory64"),
            ("(memory 1) (memory 1)", "multi"),
            ("(func (param v128) (drop (i8x16.relaxed_swizzle (local.get 0) (local.get 0))))", "relaxed"),
            ("(type (struct (field i32)))", "gc"),
            ("(tag)", "exceptions"),
        ] {
            let message = valid(fields).unwrap_err();
            assert!(message.contains(named), "{fields}: {message}");
        }
    }
}
