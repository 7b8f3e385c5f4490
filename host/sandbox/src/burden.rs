//! What a file asks of the compiler, counted before anything compiles it.
//!
//! A compiler's memory grows with the values that it has to carry from one
//! block of a function to the next, and few bytes can ask for very many: a loop
//! may have a thousand parameters, a call a thousand results, and each is two
//! bytes to write. So the values are counted, function by function.

use wasmparser::{
    BlockType, CompositeInnerType, FunctionBody, FunctionSectionReader, ImportSectionReader, Operator,
    TypeRef, TypeSectionReader,
};

use crate::limits;

/// What the functions of a module expect and return, as far as it has been read.
#[derive(Default)]
pub(crate) struct Shapes {
    /// Parameters and results of each type.
    types: Vec<(usize, usize)>,
    /// The type of each function, imported ones first.
    functions: Vec<u32>,
    /// How many functions are imported.
    imported: usize,
    /// How many functions with code have been counted.
    counted: usize,
}

impl Shapes {
    /// Reads a section of types.
    pub(crate) fn types(&mut self, section: TypeSectionReader<'_>) -> wasmparser::Result<()> {
        for group in section {
            for of in group?.into_types() {
                self.types.push(match of.composite_type.inner {
                    CompositeInnerType::Func(of) => (of.params().len(), of.results().len()),
                    _ => (0, 0),
                });
            }
        }
        Ok(())
    }

    /// Reads a section of imports.
    pub(crate) fn imports(&mut self, section: ImportSectionReader<'_>) -> wasmparser::Result<()> {
        for import in section.into_imports() {
            if let TypeRef::Func(of) | TypeRef::FuncExact(of) = import?.ty {
                self.functions.push(of);
                self.imported += 1;
            }
        }
        Ok(())
    }

    /// Reads the section that gives each function its type.
    pub(crate) fn functions(&mut self, section: FunctionSectionReader<'_>) -> wasmparser::Result<()> {
        for of in section {
            self.functions.push(of?);
        }
        Ok(())
    }

    /// Parameters and results of a type; none of one that does not exist, which
    /// the validator reports.
    fn of_type(&self, at: u32) -> (usize, usize) {
        self.types.get(at as usize).copied().unwrap_or_default()
    }

    fn of_function(&self, at: u32) -> (usize, usize) {
        self.functions.get(at as usize).map_or((0, 0), |&of| self.of_type(of))
    }

    fn of_block(&self, block: BlockType) -> (usize, usize) {
        match block {
            BlockType::Empty => (0, 0),
            BlockType::Type(_) => (0, 1),
            BlockType::FuncType(of) => self.of_type(of),
        }
    }
}

/// What one function asks of the compiler.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Burden {
    /// Bytes of its code.
    pub bytes: usize,
    /// Its parameters and local variables.
    pub locals: usize,
    /// Its blocks, loops and branches of conditions.
    pub blocks: usize,
    /// How deeply these are nested.
    pub depth: usize,
    /// Targets of all its tables of branches.
    pub targets: usize,
    /// Values to be carried into and out of blocks and calls: what their types
    /// name, and every local variable once for every block.
    pub values: usize,
    /// These times its blocks: what memory and time grow with.
    pub work: usize,
}

impl Burden {
    /// Counts the next function of a module.
    ///
    /// # Errors
    /// When its code cannot be parsed.
    pub(crate) fn of(body: &FunctionBody<'_>, shapes: &mut Shapes) -> wasmparser::Result<Burden> {
        let own = shapes.of_function((shapes.imported + shapes.counted) as u32);
        shapes.counted += 1;
        let mut burden =
            Burden { bytes: body.range().len(), locals: own.0, values: own.0 + own.1, ..Burden::default() };
        for group in body.get_locals_reader()? {
            burden.locals = burden.locals.saturating_add(group?.0 as usize);
        }
        // The values that a branch to each open block carries.
        let mut labels = vec![own.1];
        for operator in body.get_operators_reader()? {
            burden.add(&operator?, shapes, &mut labels)?;
        }
        burden.values = burden.values.saturating_add(burden.locals.saturating_mul(burden.blocks));
        burden.work = burden.values.saturating_mul(burden.blocks.max(1));
        Ok(burden)
    }

    fn add(
        &mut self,
        operator: &Operator<'_>,
        shapes: &Shapes,
        labels: &mut Vec<usize>,
    ) -> wasmparser::Result<()> {
        let carried = |label: u32| labels.iter().rev().nth(label as usize).copied().unwrap_or(0);
        let values = match operator {
            Operator::Block { blockty } | Operator::Loop { blockty } | Operator::If { blockty } => {
                let (taken, given) = shapes.of_block(*blockty);
                labels.push(if matches!(operator, Operator::Loop { .. }) { taken } else { given });
                self.blocks += 1;
                self.depth = self.depth.max(labels.len() - 1);
                taken + given
            }
            Operator::Else => {
                self.blocks += 1;
                labels.last().copied().unwrap_or(0)
            }
            Operator::End => {
                labels.pop();
                0
            }
            Operator::Br { relative_depth } | Operator::BrIf { relative_depth } => carried(*relative_depth),
            Operator::BrTable { targets } => {
                self.targets += targets.len() as usize + 1;
                let mut all = carried(targets.default());
                for target in targets.targets() {
                    all = all.saturating_add(carried(target?));
                }
                all
            }
            Operator::Return => labels.first().copied().unwrap_or(0),
            Operator::Call { function_index } | Operator::ReturnCall { function_index } => {
                let (taken, given) = shapes.of_function(*function_index);
                taken + given
            }
            Operator::CallIndirect { type_index, .. } | Operator::ReturnCallIndirect { type_index, .. } => {
                let (taken, given) = shapes.of_type(*type_index);
                taken + given
            }
            _ => 0,
        };
        self.values = self.values.saturating_add(values);
        Ok(())
    }

    /// The first limit that it is over, in words, with the limit.
    pub(crate) fn over(&self) -> Option<(&'static str, usize)> {
        let limits = [
            (self.bytes, "bytes of code in one function", limits::FUNCTION_BYTES),
            (self.locals, "local variables in one function", limits::FUNCTION_LOCALS),
            (self.depth, "blocks one inside the other", limits::BLOCKS),
            (self.blocks, "blocks in one function", limits::FUNCTION_BLOCKS),
            (self.targets, "targets of branches in one function", limits::FUNCTION_TARGETS),
            (self.values, "values carried between the blocks of one function", limits::FUNCTION_VALUES),
            (self.work, "values times blocks in one function", limits::FUNCTION_WORK),
        ];
        limits.into_iter().find(|(has, _, most)| has > most).map(|(_, what, most)| (what, most))
    }

    /// The larger of each.
    pub fn max(self, other: Burden) -> Burden {
        Burden {
            bytes: self.bytes.max(other.bytes),
            locals: self.locals.max(other.locals),
            blocks: self.blocks.max(other.blocks),
            depth: self.depth.max(other.depth),
            targets: self.targets.max(other.targets),
            values: self.values.max(other.values),
            work: self.work.max(other.work),
        }
    }
}
