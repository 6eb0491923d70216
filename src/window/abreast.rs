//! A picture is drawn on a thread of its own while the next one is laid out. Without a graphics card the call that hands
//! a picture to the screen draws it, and the main thread slept in it for 70 % of the time.

use std::sync::mpsc::{Receiver, SyncSender, TryRecvError, sync_channel};
use std::thread;
use std::time::Duration;

/// A picture that is being drawn is waited for at most so long before the window closes.
const PATIENCE: Duration = Duration::from_millis(250);

/// The way to the drawing thread and back.
pub struct Drawing<P> {
    there: SyncSender<P>,
    /// Whether the picture came onto the screen.
    back: Receiver<bool>,
    /// Is one being drawn?
    out: bool,
}

/// The drawing thread has ended.
#[derive(Debug, PartialEq, Eq)]
pub struct Broken;

impl<P: Send + 'static> Drawing<P> {
    /// Draws pictures on a thread of their own, one after the other; `draw` says whether one came onto the screen.
    ///
    /// # Errors
    /// If the system has no thread left.
    pub fn by(mut draw: impl FnMut(P) -> bool + Send + 'static) -> std::io::Result<Drawing<P>> {
        let (there, todo) = sync_channel::<P>(1);
        let (done, back) = sync_channel::<bool>(1);
        let draws = move || {
            while let Ok(picture) = todo.recv() {
                if done.send(draw(picture)).is_err() {
                    return;
                }
            }
        };
        thread::Builder::new().name("draws".into()).spawn(draws)?;
        let out = false;
        Ok(Drawing { there, back, out })
    }

    /// Waits for the last picture and has the next one drawn.
    ///
    /// # Errors
    /// If it broke while it drew.
    pub fn hand_over(&mut self, picture: P) -> Result<(), Broken> {
        if self.out {
            self.back.recv().map_err(|_| Broken)?;
        }
        self.out = true;
        self.there.send(picture).map_err(|_| Broken)
    }

    /// Whether the last picture came onto the screen, once it is known.
    ///
    /// # Errors
    /// If it broke while it drew.
    pub fn came(&mut self) -> Result<Option<bool>, Broken> {
        if !self.out {
            return Ok(None);
        }
        match self.back.try_recv() {
            Ok(shown) => {
                self.out = false;
                Ok(Some(shown))
            }
            Err(TryRecvError::Empty) => Ok(None),
            Err(TryRecvError::Disconnected) => Err(Broken),
        }
    }

    /// Waits until nothing is being drawn any more: then the program may end.
    pub fn settle(&mut self) {
        if self.out {
            // Whatever comes back, or does not come in time: nothing is drawn after this.
            let _ = self.back.recv_timeout(PATIENCE);
            self.out = false;
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::sync::atomic::{AtomicBool, AtomicU32, Ordering};
    use std::sync::{Arc, mpsc};

    #[test]
    fn a_picture_is_drawn_on_another_thread_while_the_next_is_laid_out_and_none_is_left_out() {
        let laid = Arc::new(AtomicU32::new(0));
        let (said, drawn) = mpsc::channel();
        let numbers = laid.clone();
        let mut drawing = Drawing::by(move |picture: u32| {
            // It takes until the next one is laid out: had the main thread waited, that would never come.
            for _ in 0..2000 {
                if numbers.load(Ordering::SeqCst) > picture {
                    break;
                }
                thread::sleep(Duration::from_millis(1));
            }
            let now = numbers.load(Ordering::SeqCst);
            let _ = said.send((thread::current().id(), picture, now));
            true
        })
        .expect("a thread");
        for picture in 1..=6 {
            laid.store(picture, Ordering::SeqCst);
            assert_eq!(drawing.hand_over(picture), Ok(()));
        }
        for picture in 1..=5 {
            let (by, taken, now) = drawn.recv().expect("drawn");
            assert_ne!(by, thread::current().id());
            assert_eq!(taken, picture);
            assert!(now > taken, "the next was laid out meanwhile");
        }
        laid.store(7, Ordering::SeqCst);
    }

    #[test]
    fn one_picture_at_a_time_is_drawn_and_after_it_has_settled_none() {
        let busy = Arc::new(AtomicBool::new(false));
        let works = busy.clone();
        let mut drawing = Drawing::by(move |()| {
            assert!(!works.swap(true, Ordering::SeqCst), "two at a time");
            thread::sleep(Duration::from_millis(20));
            works.store(false, Ordering::SeqCst);
            true
        })
        .expect("a thread");
        for _ in 0..5 {
            assert_eq!(drawing.hand_over(()), Ok(()));
        }
        drawing.settle();
        assert!(!busy.load(Ordering::SeqCst));
    }

    #[test]
    fn a_renderer_that_breaks_is_told() {
        let mut drawn = 0;
        let mut drawing = Drawing::by(move |()| {
            drawn += 1;
            assert_eq!(drawn, 1, "it breaks");
            true
        })
        .expect("a thread");
        let told = (0..5).find_map(|_| drawing.hand_over(()).err());
        assert_eq!(told, Some(Broken));
    }

    #[test]
    fn a_picture_that_the_screen_did_not_take_is_told_once() {
        let mut drawing = Drawing::by(|taken: bool| taken).expect("a thread");
        for taken in [true, false, true] {
            assert_eq!(drawing.hand_over(taken), Ok(()));
            let told = (0..2000).find_map(|_| {
                thread::sleep(Duration::from_millis(1));
                drawing.came().expect("it lives")
            });
            assert_eq!(told, Some(taken));
            assert_eq!(drawing.came(), Ok(None));
        }
    }
}
