//! Bytes of a stream, packed as the filter `FlateDecode` unpacks them.

use miniz_oxide::deflate::{CompressionLevel, compress_to_vec_zlib};

pub(super) fn packed(bytes: &[u8]) -> Vec<u8> {
    compress_to_vec_zlib(bytes, CompressionLevel::DefaultLevel as u8)
}
