//! Cells: which copy of the repeat is meant, counted in the two steps of the
//! definition or along the upright lattice. Each has its own type; only
//! [`UprightLattice`](crate::UprightLattice) converts one into the other.

use std::ops::{Add, AddAssign, Mul, Neg, Sub, SubAssign};

macro_rules! cell {
    ($(#[$doc:meta])* $name:ident { $(#[$first_doc:meta])* $first:ident, $(#[$second_doc:meta])* $second:ident }) => {
        $(#[$doc])*
        #[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash, PartialOrd, Ord)]
        pub struct $name {
            $(#[$first_doc])*
            pub $first: i64,
            $(#[$second_doc])*
            pub $second: i64,
        }

        impl $name {
            /// The cell of the repeat itself.
            pub const ORIGIN: $name = $name::new(0, 0);

            /// A cell from its two numbers.
            pub const fn new($first: i64, $second: i64) -> $name {
                $name { $first, $second }
            }
        }

        impl From<$name> for [i64; 2] {
            fn from(cell: $name) -> [i64; 2] {
                [cell.$first, cell.$second]
            }
        }

        impl From<[i64; 2]> for $name {
            fn from([$first, $second]: [i64; 2]) -> $name {
                $name { $first, $second }
            }
        }

        impl Add for $name {
            type Output = $name;
            fn add(self, other: $name) -> $name {
                $name::new(self.$first + other.$first, self.$second + other.$second)
            }
        }

        impl AddAssign for $name {
            fn add_assign(&mut self, other: $name) {
                *self = *self + other;
            }
        }

        impl Sub for $name {
            type Output = $name;
            fn sub(self, other: $name) -> $name {
                $name::new(self.$first - other.$first, self.$second - other.$second)
            }
        }

        impl SubAssign for $name {
            fn sub_assign(&mut self, other: $name) {
                *self = *self - other;
            }
        }

        impl Neg for $name {
            type Output = $name;
            fn neg(self) -> $name {
                $name::new(-self.$first, -self.$second)
            }
        }

        impl Mul<i64> for $name {
            type Output = $name;
            fn mul(self, times: i64) -> $name {
                $name::new(self.$first * times, self.$second * times)
            }
        }
    };
}

cell! {
    /// A cell of the definition, counted in its steps across and down.
    Cell {
        /// Steps across.
        across,
        /// Steps down.
        down
    }
}

cell! {
    /// A cell of the upright lattice, counted in upright repeats to the right and
    /// rows of repeats down.
    UprightCell {
        /// Upright repeats to the right.
        column,
        /// Rows of repeats down.
        row
    }
}

impl Cell {
    /// Twice the area of the triangle that two steps span, in cells.
    pub const fn cross(self, other: Cell) -> i64 {
        self.across * other.down - self.down * other.across
    }
}

impl From<[i32; 2]> for Cell {
    fn from([across, down]: [i32; 2]) -> Cell {
        Cell::new(across.into(), down.into())
    }
}
