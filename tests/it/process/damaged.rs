//! A database that is damaged stops the start, and is never replaced by an empty one.

use std::fs;

use super::house::{House, beginning};

const MAREN: i64 = 1;
const PAGE_BYTES: usize = 4096;

#[tokio::test]
async fn a_damaged_database_stops_the_start_and_stays_as_it_is_four_of_four() {
    type Damage = fn(&mut Vec<u8>, usize);
    let damages: [(&str, Damage); 4] = [
        ("header", |bytes, _| flip(&mut bytes[..16])),
        ("page", |bytes, page| flip(&mut bytes[page..][..PAGE_BYTES])),
        ("cell", |bytes, page| {
            // The first cell's place comes after the eight bytes of a leaf's header.
            let at = usize::from(u16::from_be_bytes([bytes[page + 8], bytes[page + 9]]));
            flip(&mut bytes[page + at..][..1]);
        }),
        ("half", |bytes, _| bytes.truncate(bytes.len() / 2)),
    ];
    for (what, damage) in damages {
        let house = House::new().await;
        house.settle_in(MAREN, beginning()).await;
        let mut database = house.database_beside().await;
        let page = "SELECT rootpage FROM sqlite_schema WHERE name = 'makers'";
        let page: u32 = sqlx::query_scalar(page).fetch_one(&mut database).await.unwrap();
        sqlx::Connection::close(database).await.unwrap();
        let mut bytes = fs::read(house.database()).unwrap();
        damage(&mut bytes, (page as usize - 1) * PAGE_BYTES);
        fs::write(house.database(), &bytes).unwrap();
        // As often as a host tries.
        for _ in 0..2 {
            let ended = house.start().ended().await;
            assert_eq!(ended.status.code(), Some(78), "{what}: {}", ended.log);
            let said = "\nerror: the database is damaged: ";
            assert_eq!(ended.log.matches(said).count(), 1, "{what}: {}", ended.log);
            let hint = "\n\nhint: keep the file, and put a backup in its place\n";
            assert!(ended.log.ends_with(hint), "{what}: {}", ended.log);
            assert!(fs::read(house.database()).unwrap() == bytes, "{what}: it was changed");
        }
        assert!(!house.data().join("duskrow.db.new").exists(), "{what}");
        assert_eq!(house.requests("getMe"), 0, "{what}");
    }
}

fn flip(bytes: &mut [u8]) {
    bytes.iter_mut().for_each(|byte| *byte ^= 0xff);
}
