//! What each instruction counts for.
//!
//! Nearly all take about as long as each other, and count one. Those below call
//! the host, which takes as long as tens of others, or keep the processor busy
//! for long. What moves memory counts one for every byte besides, and growing
//! memory so much for every page. So the number of instructions is a measure of
//! time without any clock, and no answer depends on how fast or busy a machine
//! is.

use wasmtime::{OperatorCost, VariableOperatorCost};

/// A call into the host that does next to nothing.
const HOST: u8 = 20;
/// Growing a memory or table, by nothing at all even.
const GROW: u8 = 200;
/// Dividing whole numbers, roots, and dividing real ones.
const DIVIDE: u8 = 5;

/// The counts.
pub(crate) fn costs() -> OperatorCost {
    OperatorCost {
        MemoryGrow: GROW,
        TableGrow: GROW,
        MemoryCopy: HOST,
        MemoryFill: HOST,
        MemoryInit: HOST,
        DataDrop: HOST,
        TableCopy: HOST,
        TableFill: HOST,
        TableInit: HOST,
        ElemDrop: HOST,
        TableGet: HOST,
        TableSet: HOST,
        RefFunc: GROW,
        CallIndirect: DIVIDE,
        ReturnCallIndirect: DIVIDE,
        Call: 2,
        ReturnCall: 2,
        I32DivS: DIVIDE,
        I32DivU: DIVIDE,
        I32RemS: DIVIDE,
        I32RemU: DIVIDE,
        I64DivS: DIVIDE,
        I64DivU: DIVIDE,
        I64RemS: DIVIDE,
        I64RemU: DIVIDE,
        F32Div: DIVIDE,
        F64Div: DIVIDE,
        F32Sqrt: DIVIDE,
        F64Sqrt: DIVIDE,
        variable: VariableOperatorCost {
            memory_grow_per_page: u8::MAX,
            table_grow_per_element: 4,
            table_copy_per_element: 4,
            table_fill_per_element: 4,
            table_init_per_element: 4,
            ..VariableOperatorCost::new()
        },
        ..OperatorCost::new()
    }
}
