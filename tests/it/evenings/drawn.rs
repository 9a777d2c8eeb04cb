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

fn files(world: &World) -> Vec<Seen> {
    let seen = world.stand_in.seen_by(MAREN).into_iter();
    seen.filter(|seen| matches!(seen.kind, SeenKind::Picture | SeenKind::Document)).collect()
}
