//! The files themselves: who may read them, when they are refused, and one process at a time.

use std::fs;
use std::os::unix::fs::PermissionsExt;
use std::path::{Path, PathBuf};

use duskrow::store::{Create, Lock, LockError, Store, StoreError};

use super::{Deed, Shelf, answered, new};

fn mode(path: &Path) -> u32 {
    fs::metadata(path).unwrap().permissions().mode() & 0o777
}

/// Every file of a folder with its content.
fn content(folder: &Path) -> Vec<(PathBuf, Vec<u8>)> {
    let paths = fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path());
    let mut files: Vec<_> = paths.map(|path| (path.clone(), fs::read(path).unwrap())).collect();
    files.sort();
    files
}

/// A folder with a database that was closed in order.
async fn closed() -> (tempfile::TempDir, PathBuf) {
    let Shelf { folder, store, .. } = Shelf::new().await;
    store.close().await;
    let path = folder.path().join("dusk.db");
    (folder, path)
}

async fn refusal(path: &Path, create: Create) -> StoreError {
    match Store::open(path, create).await {
        Ok(_) => panic!("the file was opened"),
        Err(error) => error,
    }
}

#[tokio::test]
async fn files_are_for_their_owner_alone_under_any_umask() {
    use rustix::{fs::Mode, process::umask};
    let before = umask(Mode::from_raw_mode(0o022));
    for mask in [0o022, 0o000, 0o077] {
        umask(Mode::from_raw_mode(mask));
        let outer = tempfile::tempdir().unwrap();
        let folder = outer.path().join("kept/here");
        let path = folder.join("dusk.db");
        let _lock = Lock::take(&path).unwrap();
        let store = Store::open(&path, Create::IfMissing).await.unwrap();
        store.set_bot(100, "dusk_bot").await.unwrap();
        let mut names = Vec::new();
        for (file, _) in content(&folder) {
            assert_eq!(mode(&file), 0o600, "{} under {mask:o}", file.display());
            names.push(file.file_name().unwrap().to_string_lossy().into_owned());
        }
        assert_eq!(names, ["dusk.db", "dusk.db-shm", "dusk.db-wal", "dusk.db.lock"]);
        assert_eq!([mode(&folder), mode(&outer.path().join("kept"))], [0o700, 0o700]);
    }
    umask(before);
}

#[tokio::test]
async fn every_connection_writes_through_and_forgets_what_is_deleted() {
    let shelf = Shelf::new().await;
    let connections = shelf.store.connections().await.unwrap();
    assert!(connections.len() > 1);
    for connection in connections {
        assert_eq!(connection.synchronous, 2);
        assert_eq!(connection.journal_mode, "wal");
        assert!(connection.foreign_keys && connection.secure_delete);
        assert_eq!(connection.busy_timeout_ms, 5000);
    }
}

#[tokio::test]
async fn a_damaged_file_is_refused_and_stays_as_it_is() {
    type Damage = fn(&mut Vec<u8>);
    let damages: [(&str, Damage); 6] = [
        ("first byte", |bytes| bytes[0] ^= 0xff),
        ("page size", |bytes| bytes[16] ^= 0xff),
        ("format version", |bytes| bytes[18] ^= 0xff),
        ("a page", |bytes| bytes[2 * 4096..][..64].fill(0xff)),
        ("halved", |bytes| bytes.truncate(bytes.len() / 2)),
        ("emptied", Vec::clear),
    ];
    for (what, damage) in damages {
        let (folder, path) = closed().await;
        let mut bytes = fs::read(&path).unwrap();
        damage(&mut bytes);
        fs::write(&path, &bytes).unwrap();
        for create in [Create::IfMissing, Create::Never] {
            let error = refusal(&path, create).await;
            assert!(matches!(error, StoreError::Corrupt(_)), "{what}: {error:?}");
            assert!(fs::read(&path).unwrap() == bytes, "{what}: the file was changed");
        }
        assert!(!folder.path().join("dusk.db.new").exists());
    }
}

#[tokio::test]
async fn a_missing_file_is_made_only_when_that_is_wanted() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("dusk.db");
    assert!(matches!(refusal(&path, Create::Never).await, StoreError::Missing));
    assert_eq!(content(folder.path()), []);
    fs::write(folder.path().join("dusk.db-wal"), "commits of a lost file").unwrap();
    assert!(matches!(refusal(&path, Create::IfMissing).await, StoreError::Corrupt(_)));
    fs::remove_file(folder.path().join("dusk.db-wal")).unwrap();
    fs::write(folder.path().join("dusk.db.new"), "of a start that was cut short").unwrap();
    Store::open(&path, Create::IfMissing).await.unwrap().close().await;
    let names: Vec<PathBuf> = content(folder.path()).into_iter().map(|(path, _)| path).collect();
    assert_eq!(names, [path]);
}

#[tokio::test]
async fn the_database_of_another_program_is_refused_and_stays_as_it_is() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("dusk.db");
    let address = format!("sqlite://{}?mode=rwc", path.display());
    let pool = sqlx::SqlitePool::connect(&address).await.unwrap();
    sqlx::query("CREATE TABLE theirs (a)").execute(&pool).await.unwrap();
    pool.close().await;
    let before = content(folder.path());
    assert!(matches!(refusal(&path, Create::IfMissing).await, StoreError::Other(_)));
    assert_eq!(content(folder.path()), before);
}

#[tokio::test]
async fn a_newer_schema_is_refused_by_its_number_and_stays_as_it_is() {
    let (folder, path) = closed().await;
    let pool = super::pool(&path).await;
    sqlx::query(
        "INSERT INTO _sqlx_migrations (version, description, success, checksum, execution_time)
        VALUES (99, 'of tomorrow', 1, x'00', 0)",
    )
    .execute(&pool)
    .await
    .unwrap();
    pool.close().await;
    let before = content(folder.path());
    match refusal(&path, Create::IfMissing).await {
        StoreError::NewerSchema { found, known } => assert_eq!((found, known), (99, 13)),
        other => panic!("{other:?}"),
    }
    assert_eq!(fs::read(&path).unwrap(), before[0].1);
}

#[tokio::test]
async fn what_was_committed_is_there_after_a_power_cut() {
    let shelf = Shelf::new().await;
    let maker = shelf.maker_with_blanket(1).await;
    let changes = vec![answered("2027-01-14", 2)];
    shelf.does(maker, Deed { changes, queue: vec![new(None, "Kept")], ..Deed::default() }).await;
    // A copy of the file and its log as they lie there, with the process still running.
    let cut = tempfile::tempdir().unwrap();
    for name in ["dusk.db", "dusk.db-wal"] {
        fs::copy(shelf.folder.path().join(name), cut.path().join(name)).unwrap();
    }
    let store = Store::open(&cut.path().join("dusk.db"), Create::Never).await.unwrap();
    assert_eq!(store.load_by_id(maker).await.unwrap().unwrap(), shelf.stored(maker).await);
    assert_eq!(store.pending().await.unwrap(), 1);
}

#[tokio::test]
async fn a_second_process_is_told_who_was_first_and_a_left_lock_file_blocks_nobody() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("dusk.db");
    fs::write(folder.path().join("dusk.db.lock"), "4000000000\n").unwrap();
    let first = Lock::take(&path).unwrap();
    match Lock::take(&path) {
        Err(error @ LockError::Held { pid }) => {
            let own = std::process::id();
            assert_eq!(pid, Some(own));
            assert_eq!(error.to_string(), format!("process {own} holds the database"));
        }
        other => panic!("{other:?}"),
    }
    drop(first);
    assert!(Lock::take(&path).is_ok());
}
