//! `/blanket`, and a block as a picture and on paper: what reaches the chat as photos and files.

use duskrow::cli::rehearse::theatre::MAREN;
use duskrow::rehearsal::{Fault, Seen, SeenKind};

use crate::world::World;

#[tokio::test]
async fn the_blanket_comes_as_a_photo_that_says_what_it_shows() {
    let mut world = World::begun("2027-01-01 12:00").await;
    world.play("@ evening\n[Smooth]\n@ evening\n@ evening\n[Very rough]\n/rows 1\n[Worked]").await;
    world.play("/blanket\n/blanket cloth\n/blanket big").await;
    let all = files(&world);
    let kinds: Vec<(SeenKind, &str)> =
        all.iter().map(|seen| (seen.kind, seen.file.as_ref().unwrap().name.as_str())).collect();
    assert_eq!(
        kinds,
        [
            (SeenKind::Picture, "blanket-2027-01-03.png"),
            (SeenKind::Picture, "blanket-2027-01-03.png"),
            (SeenKind::Document, "blanket-2027-01-03-big.png"),
            (SeenKind::Document, "blanket-2027-01-03.svg"),
        ]
    );
    for seen in &all {
        let said = "The blanket so far, in 12 blocks: ";
        assert!(seen.text.starts_with(said) && seen.text.contains("1 row worked"), "{}", seen.text);
    }
    let bytes = |index: usize| all[index].file.as_ref().unwrap().bytes.clone();
    assert_ne!(bytes(0), bytes(1), "cloth looks like cloth");
    assert!(String::from_utf8(bytes(3).to_vec()).unwrap().starts_with("<svg"));
    let said = world.play("/blanket huge").await;
    assert!(said.contains("I do not know the picture \"huge\"."), "{said}");
    // The same book gives the same bytes.
    world.play("/blanket").await;
    assert_eq!(files(&world).last().unwrap().file.as_ref().unwrap().bytes, bytes(0));
}

#[tokio::test]
async fn a_block_comes_as_a_picture_and_on_paper() {
    let mut world = World::begun("2027-01-01 12:00").await;
    world.play("@ evening\n[Smooth]\n/block\n[Picture]").await;
    world.play("/block\n[On paper]").await;
    let all = files(&world);
    assert_eq!(all.len(), 2);
    assert_eq!(all[0].kind, SeenKind::Picture);
    assert!(all[0].text.contains("January"), "{}", all[0].text);
    assert_eq!(all[1].kind, SeenKind::Document);
    let pdf = all[1].file.as_ref().unwrap();
    assert_eq!(pdf.name, "block-1-2027-01-01.pdf");
    assert!(pdf.bytes.starts_with(b"%PDF-1."));
    assert_eq!((world.requests("sendPhoto"), world.requests("sendDocument")), (1, 1));
}

/// How each photo of the chat was given to the platform: by its id of it, or with the bytes.
fn given(world: &World) -> Vec<String> {
    let requests = world.stand_in.requests().into_iter();
    // A bot that has just started does not know how much it sent before, and is told to wait.
    let photos = requests.filter(|it| it.method == "sendPhoto" && it.status != Some(429));
    photos.map(|request| request.params["photo"].as_str().unwrap_or("bytes").to_owned()).collect()
}

#[tokio::test]
async fn a_picture_the_platform_has_goes_without_its_bytes() {
    let mut world = World::begun("2027-01-01 12:00").await;
    world.play("@ evening\n[Smooth]\n/rows 1\n[Worked]\n/blanket\n/blanket").await;
    let mut world = world.restart().await;
    world.play("/blanket\n/blanket cloth\n/blanket").await;
    let given = given(&world);
    let id = given[1].clone();
    assert!(id.starts_with("SF"), "{given:?}");
    assert_eq!([&given[2], &given[4]], [&id, &id]);
    assert!(!given[0].starts_with("SF") && !given[3].starts_with("SF"), "{given:?}");
    let all = files(&world);
    let bytes = |seen: &Seen| seen.file.as_ref().unwrap().bytes.clone();
    assert_eq!(bytes(&all[0]), bytes(&all[4]));
    assert_eq!(all[0].text, all[4].text);

    // One more answer is another picture.
    world.play("/open\n@ evening\n[Rough]\n/blanket").await;
    assert!(!self::given(&world).last().unwrap().starts_with("SF"));
}

#[tokio::test]
async fn a_picture_the_platform_has_forgotten_goes_in_full() {
    let mut world = World::begun("2027-01-01 12:00").await;
    world.play("@ evening\n[Smooth]\n/blanket").await;
    let wrong = "Bad Request: wrong file identifier/HTTP URL specified";
    world.stand_in.fail_next("sendPhoto", Fault::status(400, wrong), 1);
    world.play("/blanket").await;
    assert_eq!((world.refusals("sendPhoto", 400), files(&world).len()), (1, 2));
    // What has been sent in full again goes by its new id.
    world.play("/blanket").await;
    let given = given(&world);
    assert_eq!(given.len(), 4);
    assert!(given[1].starts_with("SF") && given[3].starts_with("SF"), "{given:?}");
    assert_ne!(given[1], given[3]);
}

#[tokio::test]
async fn the_yarn_comes_as_bars_that_say_their_numbers() {
    let mut world = World::begun("2027-01-01 12:00").await;
    world.play("@ evening\n[Smooth]\n/rows 1\n[Worked]\nBrick 60\n@ evening\n[Smooth]").await;
    let said = world.play("/yarn\n[Picture]").await;
    let all = files(&world);
    let [bars] = all.as_slice() else { panic!("{said}") };
    assert_eq!(bars.kind, SeenKind::Picture);
    assert_eq!(bars.file.as_ref().unwrap().name, "yarn-2027-01-02.png");
    assert!(bars.text.starts_with("Yarn, in rows: worked, waiting and on hand. "), "{}", bars.text);
    assert!(bars.text.contains("; Brick 1, 1, not known; "), "{}", bars.text);
}

#[tokio::test]
async fn a_recap_has_buttons_for_its_week_and_for_the_months() {
    let mut world = World::begun("2027-01-01 12:00").await;
    world.play("@ evening\n[Smooth]\n@ evening\n[Rough]\n@ +1d").await;
    assert_eq!(files(&world).len(), 0, "nothing is drawn before a tap");
    world.play("/recap\n[Picture]\n/recap\n[The year]").await;
    let all = files(&world);
    let [week, year] = all.as_slice() else { panic!("{}", all.len()) };
    assert_eq!(week.file.as_ref().unwrap().name, "week-2027-01-02.png");
    assert_eq!(week.text, "Fri 1 Brick, Sat 2 Tarred Rope.");
    assert_eq!(year.file.as_ref().unwrap().name, "months-2027-01-03.png");
    let said = "The days of each month by tier. In all: Very rough 0, Rough 1, ";
    assert!(year.text.starts_with(said) && year.text.ends_with("; open 1."), "{}", year.text);
}

#[tokio::test]
async fn the_colours_come_as_a_card_and_as_a_year_that_is_called_imagined() {
    let mut world = World::begun("2027-01-01 12:00").await;
    world.play("/settings\n[Colours]\n[Colour card]\n[Imagined year]").await;
    world.play("@ evening\n[Smooth]\n/settings\n[Colours]\n[Imagined year]").await;
    let all = files(&world);
    let [card, year, later] = all.as_slice() else { panic!("{}", all.len()) };
    assert!(all.iter().all(|seen| seen.kind == SeenKind::Picture));
    assert_eq!(card.file.as_ref().unwrap().name, "colours-2027-01-01.png");
    let said = "Your colours, lowest tier first: Very rough is Mussel, Rough is Tarred Rope, ";
    assert!(card.text.starts_with(said), "{}", card.text);
    assert!(card.text.ends_with(" The joining colour is Harbour Blue."), "{}", card.text);
    assert_eq!(year.file.as_ref().unwrap().name, "imagined-year.png");
    assert!(year.text.starts_with("An imagined year: its days are invented."), "{}", year.text);
    // The same picture whatever was answered meanwhile.
    let bytes = |seen: &Seen| seen.file.as_ref().unwrap().bytes.clone();
    assert_eq!(bytes(year), bytes(later));
}

#[tokio::test]
async fn the_sheet_and_the_picture_of_a_block_follow_the_paper_that_was_chosen() {
    let mut world = World::begun("2027-01-01 12:00").await;
    world.play("@ evening\n[Smooth]\n/block\n[On paper]\n/block\n[Picture]").await;
    let said = world.play("/settings\n[Paper]\n[A5]\n[Row 1 at the top]\n[Left-handed]").await;
    assert!(said.contains("Paper: A5.\n"), "{said}");
    world.play("/block\n[On paper]\n/block\n[Picture]").await;
    let all = files(&world);
    let [sheet, picture, sheet_after, picture_after] = all.as_slice() else { panic!("{said}") };
    let starts = |seen: &Seen, with: &str| assert!(seen.text.starts_with(with), "{}", seen.text);
    starts(sheet, "The block on paper, A4: a box to tick");
    starts(sheet_after, "The block on paper, A5: a box to tick");
    // ISO 216 in points.
    let has = |seen: &Seen, size: &str| {
        let bytes = seen.file.as_ref().unwrap().bytes.clone();
        String::from_utf8_lossy(&bytes).contains(size)
    };
    assert!(has(sheet, "[0 0 595.28 841.89]") && has(sheet_after, "[0 0 419.53 595.28]"));
    let bytes = |seen: &Seen| seen.file.as_ref().unwrap().bytes.clone();
    assert_ne!(bytes(picture), bytes(picture_after));
}

fn files(world: &World) -> Vec<Seen> {
    let seen = world.stand_in.seen_by(MAREN).into_iter();
    seen.filter(|seen| matches!(seen.kind, SeenKind::Picture | SeenKind::Document)).collect()
}
