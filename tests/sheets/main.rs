//! One thing per drawing, measured back from what was written.
