//! Opens the file, or refuses it: damaged, newer than this program, or not there.
//!
//! A file is looked at through a read-only connection before anything may write to it. A new one
//! is made under another name and moved into place whole, so an empty file is never ours. Never
//! makes a database where there was one.

use std::fs::{self, DirBuilder, File, OpenOptions, Permissions};
use std::io::{self, Read};
use std::os::unix::fs::{DirBuilderExt, OpenOptionsExt, PermissionsExt};
use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::sync::atomic::{AtomicU32, Ordering};
use std::time::Duration;

use anyhow::anyhow;
use sqlx::migrate::Migrator;
use sqlx::sqlite::{SqliteConnectOptions, SqliteJournalMode, SqlitePoolOptions, SqliteSynchronous};
use sqlx::{AssertSqlSafe, ConnectOptions, Connection as _, SqliteConnection, SqlitePool};

use super::error::{Result, StoreError};

/// The schema, forward only. The build follows a change of a file in `migrations/`; after adding
/// one, touch this file (a test compares the folder with what was built in).
static MIGRATIONS: Migrator = sqlx::migrate!("./migrations");

/// `PRAGMA application_id` of our files: "Dusk".
const APPLICATION_ID: i64 = 0x4475_736B;
/// The header of a file (<https://www.sqlite.org/fileformat.html#the_database_header>): bytes 18
/// and 19 are the versions a program must know to write and to read it.
const HEADER_BYTES: u64 = 100;
const BUSY_TIMEOUT: Duration = Duration::from_secs(5);
const READERS: u32 = 3;
/// What SQLite allows at most.
const PAGES_MAX: u32 = 0xffff_fffe;

/// The file: one connection that writes, a few that read.
pub struct Store {
    pub(super) writer: SqlitePool,
    pub(super) readers: SqlitePool,
    pages_max: Arc<AtomicU32>,
}

/// Whether a database that is not there may be made.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Create {
    IfMissing,
    Never,
}

/// What one connection was told, read back from it.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Connection {
    pub journal_mode: String,
    /// 2 is FULL: a commit is on disk when it returns.
    pub synchronous: i64,
    pub foreign_keys: bool,
    pub secure_delete: bool,
    pub busy_timeout_ms: i64,
}

impl Store {
    /// # Errors
    /// [`StoreError::Missing`], [`StoreError::Corrupt`] and [`StoreError::NewerSchema`] leave the
    /// file as it was.
    pub async fn open(path: &Path, create: Create) -> Result<Store> {
        match (path.try_exists()?, create) {
            (true, Create::IfMissing | Create::Never) => inspect(path).await?,
            (false, Create::Never) => return Err(StoreError::Missing),
            (false, Create::IfMissing) => make(path).await?,
        }
        let store = Store::connect(path).await?;
        MIGRATIONS.run(&store.writer).await?;
        Ok(store)
    }

    /// Checks the last commits into the file and lets go of it.
    pub async fn close(&self) {
        self.readers.close().await;
        self.writer.close().await;
    }

    /// Keeps the file from growing beyond `pages` pages of 4 KiB: more is [`StoreError::Full`].
    /// Holds until it is closed. A size the file has already outgrown means its size now.
    ///
    /// # Errors
    /// Those of the file.
    pub async fn limit_pages(&self, pages: u32) -> Result<()> {
        self.pages_max.store(pages, Ordering::Relaxed);
        Ok(set_pages_max(&mut *self.writer.acquire().await?, pages).await?)
    }

    /// What every connection was told: the writer first, then as many readers as there can be.
    ///
    /// # Errors
    /// Those of the file.
    pub async fn connections(&self) -> Result<Vec<Connection>> {
        let mut held = vec![self.writer.acquire().await?];
        for _ in 0..READERS {
            held.push(self.readers.acquire().await?);
        }
        let mut told = Vec::new();
        for connection in &mut held {
            told.push(read_back(connection).await?);
        }
        Ok(told)
    }

    async fn connect(path: &Path) -> Result<Store> {
        let pages_max = Arc::new(AtomicU32::new(PAGES_MAX));
        let writer = pool(1, &pages_max).connect_with(options(path)).await?;
        let reading = options(path).read_only(true);
        let readers = pool(READERS, &pages_max).connect_lazy_with(reading);
        Ok(Store { writer, readers, pages_max })
    }
}

/// Connections that stay open, except one that sqlx can no longer use: where SQLite itself rolls
/// back (a full disk, an I/O error), sqlx 0.9 counts the transaction as open for ever.
fn pool(connections: u32, pages_max: &Arc<AtomicU32>) -> SqlitePoolOptions {
    let pages_max = Arc::clone(pages_max);
    SqlitePoolOptions::new()
        .max_connections(connections)
        .idle_timeout(None)
        .max_lifetime(None)
        .before_acquire(|connection, _| {
            let usable = !connection.is_in_transaction();
            Box::pin(async move { Ok(usable) })
        })
        .after_connect(move |connection, _| {
            let pages = pages_max.load(Ordering::Relaxed);
            Box::pin(async move { set_pages_max(connection, pages).await })
        })
}

async fn set_pages_max(connection: &mut SqliteConnection, pages: u32) -> sqlx::Result<()> {
    let limit = AssertSqlSafe(format!("PRAGMA max_page_count = {pages}"));
    sqlx::query(limit).execute(connection).await?;
    Ok(())
}

fn options(path: &Path) -> SqliteConnectOptions {
    SqliteConnectOptions::new()
        .filename(path)
        .create_if_missing(false)
        .journal_mode(SqliteJournalMode::Wal)
        .synchronous(SqliteSynchronous::Full)
        .foreign_keys(true)
        .busy_timeout(BUSY_TIMEOUT)
        .pragma("secure_delete", "ON")
        // What is sorted or rolled back never reaches a file outside our folder.
        .pragma("temp_store", "MEMORY")
        .disable_statement_logging()
}

/// Refuses a file that is damaged, not ours or too new, without writing to it.
async fn inspect(path: &Path) -> Result<()> {
    let mut header = Vec::new();
    File::open(path)?.take(HEADER_BYTES).read_to_end(&mut header)?;
    // SQLite opens a file of a write version it does not know, and fails at the first commit.
    match header.get(18..20) {
        Some([1 | 2, 1 | 2]) => {}
        Some(_) => return Err(StoreError::Corrupt("its header is not SQLite's".to_owned())),
        None => return Err(StoreError::Corrupt("the file is empty".to_owned())),
    }
    let looking = SqliteConnectOptions::new()
        .filename(path)
        .read_only(true)
        .busy_timeout(BUSY_TIMEOUT)
        .disable_statement_logging();
    let mut connection = looking.connect().await?;
    let verdict = inspect_through(&mut connection).await;
    connection.close().await?;
    verdict
}

async fn inspect_through(connection: &mut SqliteConnection) -> Result<()> {
    let found: String =
        sqlx::query_scalar("PRAGMA quick_check(1)").fetch_one(&mut *connection).await?;
    if found != "ok" {
        return Err(StoreError::Corrupt(found));
    }
    let id: i64 = sqlx::query_scalar("PRAGMA application_id").fetch_one(&mut *connection).await?;
    if id != APPLICATION_ID {
        return Err(StoreError::Other(anyhow!("the file is not a database of this program")));
    }
    let newest = "SELECT coalesce(max(version), 0) FROM _sqlx_migrations";
    let found: i64 = sqlx::query_scalar(newest).fetch_one(&mut *connection).await?;
    let known = MIGRATIONS.iter().map(|migration| migration.version).max().unwrap_or(0);
    match found > known {
        true => Err(StoreError::NewerSchema { found, known }),
        false => Ok(()),
    }
}

/// Makes a new database under another name and moves it into place.
async fn make(path: &Path) -> Result<()> {
    if beside(path, "-wal").try_exists()? {
        let what = "its write-ahead log is there without it".to_owned();
        return Err(StoreError::Corrupt(what));
    }
    let folder = match path.parent() {
        Some(folder) if !folder.as_os_str().is_empty() => folder,
        Some(_) | None => Path::new("."),
    };
    make_folder(folder)?;
    let unfinished = beside(path, ".new");
    for leftover in ["", "-wal", "-shm"] {
        remove(&beside(&unfinished, leftover))?;
    }
    let file = OpenOptions::new().write(true).create_new(true).mode(0o600).open(&unfinished)?;
    file.set_permissions(Permissions::from_mode(0o600))?;
    let store = Store::connect(&unfinished).await?;
    MIGRATIONS.run(&store.writer).await?;
    store.close().await;
    file.sync_all()?;
    fs::rename(&unfinished, path)?;
    File::open(folder)?.sync_all()?;
    Ok(())
}

/// A folder that was there keeps its mode: it may hold more than ours.
pub(super) fn make_folder(folder: &Path) -> io::Result<()> {
    if folder.is_dir() {
        return Ok(());
    }
    DirBuilder::new().recursive(true).mode(0o700).create(folder)
}

/// The path with `suffix` after its last name.
pub(super) fn beside(path: &Path, suffix: &str) -> PathBuf {
    let mut name = path.as_os_str().to_owned();
    name.push(suffix);
    PathBuf::from(name)
}

pub(super) fn remove(path: &Path) -> io::Result<()> {
    match fs::remove_file(path) {
        Err(error) if error.kind() == io::ErrorKind::NotFound => Ok(()),
        outcome => outcome,
    }
}

async fn read_back(connection: &mut SqliteConnection) -> Result<Connection> {
    let mut number = async |pragma: &'static str| -> Result<i64> {
        Ok(sqlx::query_scalar(pragma).fetch_one(&mut *connection).await?)
    };
    let synchronous = number("PRAGMA synchronous").await?;
    let foreign_keys = number("PRAGMA foreign_keys").await? == 1;
    let secure_delete = number("PRAGMA secure_delete").await? == 1;
    let busy_timeout_ms = number("PRAGMA busy_timeout").await?;
    let journal_mode =
        sqlx::query_scalar("PRAGMA journal_mode").fetch_one(&mut *connection).await?;
    Ok(Connection { journal_mode, synchronous, foreign_keys, secure_delete, busy_timeout_ms })
}
