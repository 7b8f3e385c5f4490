//! Shared by the tests of the whole house.
