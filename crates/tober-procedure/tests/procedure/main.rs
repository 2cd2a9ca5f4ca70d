//! Whether a ride book's steps are proved, and refuted with the right story, in every order.

mod broken;
mod hand;
mod large;
mod partly;
mod rides;
mod scale;
mod see_saw;
mod stages;
