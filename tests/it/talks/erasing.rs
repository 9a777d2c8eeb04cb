//! `/erase`: one exact word on the next line, and nothing else.

use super::talker::Talker;

#[test]
fn only_the_exact_word_on_the_next_line_erases() {
    let mut maren = asked();
    assert!(maren.types("/erase").contains("Type ERASE"));
    for other in ["erase", "yes", "ERASE it", "E R A S E"] {
        let mut maren = asked();
        maren.types("/erase");
        let said = maren.types(other);
        assert!(
            said.starts_with("Nothing was erased, and that line was not kept.\n"),
            "{other}: {said}"
        );
        assert!(!maren.erased);
        maren.types("ERASE");
        assert!(!maren.erased, "the word alone, without /erase before it");
    }
    assert!(maren.types("ERASE").starts_with("Everything kept about you here is erased."));
    assert!(maren.erased);
}

#[test]
fn a_tap_or_a_command_after_erase_leaves_that_flow() {
    let leave: [fn(&mut Talker) -> String; 4] = [
        |maren| maren.types("/cancel"),
        |maren| maren.types("/help"),
        |maren| maren.types("/rows"),
        |maren| maren.taps("Smooth"),
    ];
    for leave in leave {
        let mut maren = asked();
        maren.types("/erase");
        let said = leave(&mut maren);
        maren.types("ERASE");
        assert!(!maren.erased, "{said}");
    }
}

#[test]
fn erase_in_set_up_can_be_taken_back_and_set_up_goes_on() {
    for take_back in ["/cancel", "no"] {
        let mut maren = Talker::joined("2027-01-14 20:14");
        maren.does(&["Lisbon", "yes"]);
        maren.types("/erase");
        let said = maren.types(take_back);
        assert!(said.starts_with("Nothing was erased"), "{said}");
        assert!(said.ends_with("Type your city, or the nearest big one."), "{said}");
        assert!(maren.types("Lisbon").starts_with("In Lisbon"));
        assert!(!maren.erased);
    }
}

fn asked() -> Talker {
    let mut maren = Talker::with_blanket("2027-01-14 12:00", "2027-01-01");
    maren.turn("2027-01-14 21:00");
    maren
}
