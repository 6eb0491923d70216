//! Copy, cut and paste: text only, through the desktop's clipboard for programs of X11 (which the window is, on Wayland
//! too). The library between bevy and egui would bring a second way of its own for Wayland, 20 crates to build.

use bevy::prelude::*;
use bevy_egui::egui::{Event, Key, OutputCommand};
use bevy_egui::{EguiInput, EguiOutput};

/// The desktop's clipboard, opened when it is first used; none where there is no desktop to ask.
#[derive(Default)]
pub(super) struct Board(Option<Option<arboard::Clipboard>>);

impl Board {
    fn opened(&mut self) -> Option<&mut arboard::Clipboard> {
        self.0
            .get_or_insert_with(|| arboard::Clipboard::new().ok())
            .as_mut()
    }
}

/// Before the pages are laid out: the keys for copy, cut and paste, as events of their own.
pub(super) fn pastes(mut inputs: Query<&mut EguiInput>, mut board: NonSendMut<Board>) {
    for mut input in &mut inputs {
        let asked: Vec<Key> = input.0.events.iter().filter_map(asked).collect();
        for key in asked {
            let event = match key {
                Key::C => Some(Event::Copy),
                Key::X => Some(Event::Cut),
                _ => board
                    .opened()
                    .and_then(|b| b.get_text().ok())
                    .map(Event::Paste),
            };
            input.0.events.extend(event);
        }
    }
}

/// The key of an event that asks for copy, cut or paste.
fn asked(event: &Event) -> Option<Key> {
    match event {
        Event::Key {
            key: key @ (Key::C | Key::X | Key::V),
            pressed: true,
            modifiers,
            ..
        } if modifiers.command => Some(*key),
        _ => None,
    }
}

/// After the pages are laid out: what was copied goes to the desktop.
pub(super) fn copies(outputs: Query<&EguiOutput>, mut board: NonSendMut<Board>) {
    for output in &outputs {
        for command in &output.platform_output.commands {
            if let OutputCommand::CopyText(text) = command
                && !text.is_empty()
                && let Some(board) = board.opened()
            {
                // Where the desktop does not take it there is nobody to tell: the text is still in its field.
                let _ = board.set_text(text.as_str());
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use bevy_egui::egui::Modifiers;

    #[test]
    fn the_keys_for_copy_cut_and_paste_are_told_from_letters() {
        let key = |key, modifiers, pressed| Event::Key {
            key,
            physical_key: None,
            pressed,
            repeat: false,
            modifiers,
        };
        let of = |event: Event| asked(&event);
        assert_eq!(of(key(Key::C, Modifiers::COMMAND, true)), Some(Key::C));
        assert_eq!(of(key(Key::V, Modifiers::COMMAND, true)), Some(Key::V));
        assert_eq!(of(key(Key::V, Modifiers::COMMAND, false)), None);
        assert_eq!(of(key(Key::C, Modifiers::NONE, true)), None);
        assert_eq!(of(key(Key::A, Modifiers::COMMAND, true)), None);
    }

    #[test]
    fn copy_and_cut_reach_the_pages_as_events_of_their_own() {
        let mut app = App::new();
        app.insert_non_send(Board(Some(None)))
            .add_systems(Update, pastes);
        let mut input = EguiInput::default();
        for key in [Key::C, Key::X, Key::V] {
            input.0.events.push(Event::Key {
                key,
                physical_key: None,
                pressed: true,
                repeat: false,
                modifiers: Modifiers::COMMAND,
            });
        }
        let window = app.world_mut().spawn(input).id();
        app.update();
        let input = app.world().get::<EguiInput>(window).expect("there");
        // Without a desktop nothing is there to paste.
        assert_eq!(input.0.events[3..], [Event::Copy, Event::Cut]);
    }
}
