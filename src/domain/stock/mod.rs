//! What is held, booked, used, left over and to be ordered.
