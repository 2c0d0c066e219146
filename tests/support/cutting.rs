//! What a cylindrical cutter takes away on its way.
