//! Files in, checked definitions out.
