//! Letting it run on from a frozen moment in which players were moved: the possession goes on from
//! there (`sim::play_on`), is marked as one that was changed by hand, and leads back step by step
//! or at once.

use super::desk::Desk;
use super::words::floor as words;
use crate::looks::BODIES;
use crate::possession::TICK;
use crate::sim::play_on::Put;

impl Desk {
    /// Runs on from the present moment with everybody where he was put by hand. False if nobody was
    /// moved, or the possession is over here.
    pub fn run_on(&mut self) -> bool {
        if self.moved.iter().all(Option::is_none) {
            return false;
        }
        if self.time.now > self.recording.possession.duration - 2.0 * TICK {
            self.say(words::THE_POSSESSION_IS_OVER);
            return true;
        }
        let put = Put::at(self.time.now, self.moved);
        self.puts_back.clear();
        self.settings.hint = self.settings.hint.max(2);
        self.go_on(put);
        let who = who(&put);
        self.say(words::it_goes_on_from(&who));
        true
    }

    /// What was put later than this counts no more: it goes on from this put.
    fn go_on(&mut self, put: Put) {
        self.puts.retain(|p| p.tick < put.tick);
        self.puts.push(put);
        self.replay();
        self.time.now = put.time();
        self.time.running = true;
    }

    /// Takes the last such put back: frozen at its moment, the players as they were dragged. False if
    /// there is none.
    pub fn take_back_put(&mut self) -> bool {
        let Some(put) = self.puts.pop() else {
            return false;
        };
        self.puts_back.push(put);
        self.replay();
        self.time.go(put.time(), &self.recording);
        self.moved = put.to;
        true
    }

    /// Runs on again from a put that was taken back. False if there is none.
    pub fn put_again(&mut self) -> bool {
        let Some(put) = self.puts_back.pop() else {
            return false;
        };
        self.go_on(put);
        true
    }

    /// Back to the possession as the seed has it, frozen where it was first left.
    pub fn back_to_itself(&mut self) {
        let Some(first) = self.puts.first().copied() else {
            return;
        };
        self.forget_puts();
        self.replay();
        self.time.go(first.time(), &self.recording);
        self.time.freeze(&self.recording);
        self.say(words::THE_POSSESSION_ITSELF_AGAIN);
    }

    /// Nothing was put elsewhere any more, and nothing can be put again.
    pub fn forget_puts(&mut self) {
        self.puts.clear();
        self.puts_back.clear();
    }

    /// What the floor says of a possession that was changed by hand: "from here: X3 moved at 4.2 s".
    pub fn put_words(&self) -> Option<String> {
        let parts = self.puts.iter();
        let parts: Vec<String> = parts
            .map(|put| words::moved_at_s(&who(put), &put.time()))
            .collect();
        (!parts.is_empty()).then(|| words::changed_by_hand(&parts.join("; ")))
    }
}

/// "X3", "2 and X3", "everybody".
fn who(put: &Put) -> String {
    let names: Vec<String> = (0..BODIES)
        .filter(|i| put.to[*i].is_some())
        .map(|i| {
            if i < 5 {
                format!("{}", i + 1)
            } else {
                format!("X{}", i - 4)
            }
        })
        .collect();
    match names.as_slice() {
        [one] => one.clone(),
        [first @ .., last] if names.len() < 5 => words::and(&first.join(", "), &last),
        _ => words::players(&names.len()),
    }
}

#[cfg(test)]
mod tests {
    use super::super::store;
    use super::*;
    use crate::court::Vec2;

    fn desk() -> (tempfile::TempDir, Desk) {
        let folder = tempfile::tempdir().expect("a folder");
        let mut desk = Desk::new(store::demo(), None, folder.path().to_owned());
        desk.to_seed(3);
        desk.time.go(1.6, &desk.recording);
        desk.time.freeze(&desk.recording);
        (folder, desk)
    }

    #[test]
    fn it_goes_on_from_there_and_leads_back_to_the_same_possession() {
        let (_folder, mut desk) = desk();
        let itself = desk.recording.possession.clone();
        assert!(!desk.run_on(), "nobody was moved");
        let (now, there) = (desk.time.now, Vec2::new(0.5, 10.5));
        desk.moved[7] = Some(there);
        assert!(desk.run_on());
        assert!(desk.time.running && desk.time.now == now);
        assert_ne!(desk.recording.possession, itself);
        assert!((desk.picture().pos[7] - there).length() < 0.1);
        let moved = format!("X3 moved at {now:.1} s");
        assert!(desk.put_words().is_some_and(|w| w.contains(&moved)));
        // Once more, later; then step by step back.
        desk.time.go(now + 0.4, &desk.recording);
        desk.moved[0] = Some(Vec2::new(3.0, 8.0));
        assert!(desk.run_on());
        let twice = desk.recording.possession.clone();
        assert_eq!(desk.puts.len(), 2);
        desk.undo();
        assert_eq!(
            (desk.puts.len(), desk.moved[0]),
            (1, Some(Vec2::new(3.0, 8.0)))
        );
        assert!(!desk.time.running);
        desk.undo();
        assert_eq!(desk.recording.possession, itself);
        assert_eq!((desk.moved[7], desk.time.now), (Some(there), now));
        desk.redo();
        desk.redo();
        assert_eq!(desk.recording.possession, twice);
        desk.back_to_itself();
        assert_eq!(desk.recording.possession, itself);
        assert!(desk.put_words().is_none());
    }

    #[test]
    fn going_on_from_an_earlier_moment_drops_what_was_put_later() {
        let (_folder, mut desk) = desk();
        desk.moved[7] = Some(Vec2::new(0.5, 10.5));
        desk.run_on();
        desk.time.go(0.8, &desk.recording);
        desk.moved[8] = Some(Vec2::new(-3.0, 6.0));
        desk.run_on();
        assert_eq!(desk.puts.len(), 1);
        assert!(desk.puts[0].to[7].is_none());
    }

    #[test]
    fn a_change_of_a_rule_plays_the_possession_itself() {
        let (_folder, mut desk) = desk();
        desk.moved[7] = Some(Vec2::new(0.5, 10.5));
        desk.run_on();
        let mut edit = desk.edit().clone();
        edit.offence.patience.hold += 0.7;
        desk.change(edit, "hold");
        assert!(desk.puts.is_empty() && desk.put_words().is_none());
    }
}
