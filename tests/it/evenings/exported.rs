//! `/export`: the days and the rows reach the chat as files, made of the book as it is then.

use duskrow::cli::rehearse::theatre::MAREN;
use duskrow::rehearsal::SeenKind;

use crate::world::World;

#[tokio::test]
async fn the_days_and_the_rows_come_as_two_tables() {
    let mut world = World::begun("2027-01-01 12:00").await;
    world.play("@ evening\n[Smooth]\n@ evening\n@ evening\n[Very rough]\n[Note]").await;
    world.play("=1+1, \"quoted\"\n/rows 1\n[Worked]\n/export").await;
    let files = files(&world);
    let names: Vec<&str> = files.iter().map(|(name, ..)| name.as_str()).collect();
    assert_eq!(names, ["days-2027-01-03.csv", "rows-2027-01-03.csv"]);
    // The columns and records of RFC 4180; the note as OWASP would have it.
    let (_, beside, days) = &files[0];
    assert!(beside.starts_with("Your days as a table:"), "{beside}");
    let days: Vec<&str> = days.split("\r\n").collect();
    assert_eq!(days.len(), 5, "{days:?}");
    let columns = "date,block,row,side,tier,label,yarn,colour,kept,kept_at,notes";
    assert_eq!(days[0], columns);
    let first = "2027-01-01,1,1,RS,6,Smooth,Brick,#A05E41,answered,2027-01-01T21:00:00Z,";
    assert_eq!(days[1], first);
    assert_eq!(days[2], "2027-01-02,1,2,WS,,,,,,,");
    let third = "2027-01-03,1,3,RS,1,Very rough,Mussel,#3D2078,answered,2027-01-03T21:00:00Z,";
    assert_eq!(days[3], format!("{third}\"'=1+1, \"\"quoted\"\"\""));
    let rows: Vec<&str> = files[1].2.split("\r\n").collect();
    let worked = "1,1,RS,2027-01-01,Smooth,Brick,#A05E41,worked,Brick,2027-01-03T21:00:0";
    assert!(rows[1].starts_with(worked), "{}", rows[1]);
    assert_eq!(rows[2], "1,2,WS,2027-01-02,,,,open,,");
    assert_eq!(rows[3], "1,3,RS,2027-01-03,Very rough,Mussel,#3D2078,waiting,,");
    assert_eq!(rows[4], "1,4,WS,2027-01-04,,,,to come,,");
    assert_eq!(world.requests("sendDocument"), 2);
}

#[tokio::test]
async fn a_file_that_waits_is_made_when_it_is_sent() {
    let mut world = World::begun("2027-01-01 12:00").await;
    world.play("@ evening").await;
    world.type_unseen("/export");
    world.tap_unseen("Smooth");
    world.settle().await;
    assert!(files(&world)[0].2.contains("2027-01-01,1,1,RS,"));
    let maker = world.theatre.book(MAREN).await.unwrap().unwrap();
    assert_eq!(maker.answers().len(), 1);
}

/// Name, caption and content of each document that came.
fn files(world: &World) -> Vec<(String, String, String)> {
    let seen = world.stand_in.seen_by(MAREN);
    let documents = seen.into_iter().filter(|seen| seen.kind == SeenKind::Document);
    let content = documents.map(|seen| {
        let file = seen.file.unwrap();
        (file.name.clone(), seen.text, String::from_utf8(file.bytes.to_vec()).unwrap())
    });
    content.collect()
}
