//! Whether a ride book's steps are proved, and refuted with the right story, in every order.

mod broken;
mod hand;
mod rides;
mod see_saw;
mod stages;
