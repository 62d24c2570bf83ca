//! The compiler as a WebAssembly module with three functions. A request is written into the memory at
//! `wetside_room(length)`; `wetside_answer()` returns the length of the answer, which is then at `wetside_place()`.
//! Requests and answers are JSON texts, as in `wetside::page`.

use std::cell::RefCell;

use wetside::page::Compiler;

thread_local! {
    static COMPILER: RefCell<Compiler> = RefCell::default();
    /// The bytes of a request, and afterwards those of the answer.
    static BUFFER: RefCell<Vec<u8>> = const { RefCell::new(Vec::new()) };
}

/// The address at which the caller writes a request of `length` bytes.
// SAFETY: no other function of the module has this name.
#[unsafe(no_mangle)]
pub extern "C" fn wetside_room(length: usize) -> *mut u8 {
    BUFFER.with_borrow_mut(|buffer| {
        buffer.clear();
        buffer.resize(length, 0);
        buffer.as_mut_ptr()
    })
}

/// Answers the request in the buffer, and returns the length of the answer in bytes.
// SAFETY: no other function of the module has this name.
#[unsafe(no_mangle)]
pub extern "C" fn wetside_answer() -> usize {
    let request = BUFFER.with_borrow_mut(std::mem::take);
    let answer = COMPILER.with_borrow_mut(|compiler| compiler.answer(&String::from_utf8_lossy(&request)));
    BUFFER.with_borrow_mut(|buffer| {
        *buffer = answer.into_bytes();
        buffer.len()
    })
}

/// The address of the answer in the memory of the module.
// SAFETY: no other function of the module has this name.
#[unsafe(no_mangle)]
pub extern "C" fn wetside_place() -> *const u8 {
    BUFFER.with_borrow(|buffer| buffer.as_ptr())
}
