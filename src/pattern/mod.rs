//! The pattern's lines -> size sets, ledger, diagnostics.

mod ledger;

pub use ledger::{Ledger, LedgerRow};
