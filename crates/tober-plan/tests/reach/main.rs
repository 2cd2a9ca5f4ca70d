//! Reach: from the wheels onto the legs, on invented trailers, each way checked by the part that did not find it.

mod books;
mod laws;
mod slow;
mod trailer;
mod ways;
