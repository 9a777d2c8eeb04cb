//! Disks that cannot be written, or not any more. What this machine cannot show is said.

use std::fs::{self, File, Permissions};
use std::io::Write;
use std::os::unix::fs::PermissionsExt;
use std::path::Path;
use std::process::Command;

use chrono::Days;
use rustix::process::{Signal, geteuid};

use super::bot::Bot;
use super::house::{House, beginning, first_day};
use super::stream::is_question;
use super::{skip, within};

const MAREN: i64 = 1;
/// Names a disk of 4 MiB that may be filled.
const SMALL_DISK: &str = "DUSKROW_SMALL_DISK";
const TEST: &str =
    "process::disks::on_a_full_disk_nothing_acknowledged_is_lost_and_with_room_it_goes_on";

#[tokio::test]
async fn a_folder_or_a_file_that_cannot_be_written_stops_the_start_with_one_sentence() {
    // Permissions do not bind a process that may override them, as root's do.
    let bound: &[&str] = match geteuid().is_root() {
        true => &["setpriv", "--bounding-set", "-dac_override,-dac_read_search"],
        false => &["env"],
    };
    if !works(bound, "true") {
        return skip("a folder that cannot be written: permissions do not bind here");
    }
    for (mode_of_folder, mode_of_file) in [(0o500, 0o600), (0o700, 0o400)] {
        let house = House::new().await;
        house.settle_in(MAREN, beginning()).await;
        let set = |path: &Path, mode| fs::set_permissions(path, Permissions::from_mode(mode));
        set(&house.database(), mode_of_file).unwrap();
        set(&house.data(), mode_of_folder).unwrap();
        refused(&house, inside(bound, "exec \"$0\" \"$@\"", &house)).await;
        set(&house.data(), 0o700).unwrap();
    }
}

#[tokio::test]
async fn a_disk_that_is_mounted_read_only_stops_the_start_with_one_sentence() {
    let Some(apart) = own_mounts() else { return skip("a read-only disk: nothing can be mounted") };
    let house = House::new().await;
    house.settle_in(MAREN, beginning()).await;
    let script = "mkdir -p ro && mount -t tmpfs -o mode=700 none ro && cp -a \"$DUSKROW_DATA/.\" ro \
                  && mount -o remount,ro ro && DUSKROW_DATA=$PWD/ro exec \"$0\" \"$@\"";
    refused(&house, inside(apart, script, &house)).await;
}

/// Twice the same: a host that starts it again and again gets nothing else.
async fn refused(house: &House, command: impl Fn() -> Command) {
    let before = fs::read(house.database()).unwrap();
    for _ in 0..2 {
        let ended = Bot::start(command()).ended().await;
        assert_eq!(ended.status.code(), Some(78), "{}", ended.log);
        let said = "\nerror: the database or its folder cannot be written: ";
        assert_eq!(ended.log.matches(said).count(), 1, "{}", ended.log);
        let hint = "\n\nhint: let the user of the bot write to the data folder\n";
        assert!(ended.log.ends_with(hint), "{}", ended.log);
        ended.tells_nothing();
    }
    assert!(fs::read(house.database()).unwrap() == before);
    assert_eq!(house.requests("getMe"), 0);
}

#[tokio::test]
async fn on_a_full_disk_nothing_acknowledged_is_lost_and_with_room_it_goes_on() {
    if let Some(disk) = std::env::var_os(SMALL_DISK) {
        return fills_up(Path::new(&disk)).await;
    }
    let Some(apart) = own_mounts() else { return skip("a full disk: nothing can be mounted") };
    let disk = tempfile::tempdir().unwrap();
    let script = format!(
        "mount -t tmpfs -o size=4m,mode=700 none \"${SMALL_DISK}\" && exec \"$0\" --exact {TEST}"
    );
    let mut again = Command::new(apart[0]);
    again.args(&apart[1..]).args(["/bin/sh", "-c", &script]);
    again.arg(std::env::current_exe().unwrap()).env(SMALL_DISK, disk.path());
    let ended = tokio::task::spawn_blocking(move || again.output().unwrap()).await.unwrap();
    let said = String::from_utf8_lossy(&ended.stdout);
    assert!(ended.status.success() && said.contains("1 passed"), "{said}");
}

async fn fills_up(disk: &Path) {
    let house = House::on_disk(disk).await;
    house.settle_in(MAREN, beginning()).await;
    let mut bot = house.start_polling().await;
    let day = first_day() + Days::new(1);
    house.stand_in.send_text(MAREN, &format!("/today {day}"));
    let question = house.sees(MAREN, "the question", |seen| is_question(seen, day)).await;
    house.comes_through(MAREN).await;

    let filler = disk.join("filler");
    let mut file = File::create(&filler).unwrap();
    while file.write_all(&[7; 4096]).is_ok() {}
    let mut typed = 0;
    while !bot.log().contains("an update could not be kept yet") {
        typed += 1;
        assert!(typed < 1000, "the disk does not get full");
        house.stand_in.send_text(MAREN, &format!("fog {typed}"));
        let (before, taken) = (house.requests("getUpdates"), house.stand_in.clone());
        let polled = |it: &duskrow::rehearsal::Logged| it.method == "getUpdates";
        let asks = taken.until(|it| it.requests().iter().filter(|it| polled(it)).count() > before);
        within("the next poll", asks).await;
    }
    let query = house.stand_in.tap_on(MAREN, question.id, "Smooth").unwrap();
    bot.logs("there is no space left for the database").await;
    house.says(MAREN, "I could not keep that yet.").await;
    let acknowledged = || {
        let asked = house.stand_in.requests();
        asked.iter().filter(|it| it.params["callback_query_id"] == query.as_str()).count()
    };
    assert_eq!(acknowledged(), 0);
    assert!(house.stand_in.unconfirmed_updates() >= 2);

    fs::remove_file(filler).unwrap();
    drop(file);
    house.says(MAREN, "Smooth.\nRow 2").await;
    within("the last poll", house.stand_in.drained()).await;
    assert_eq!(acknowledged(), 1);
    let told = house.stand_in.seen_by(MAREN).into_iter();
    let told = told.filter(|seen| seen.text.starts_with("I could not keep that yet.")).count();
    assert_eq!(told, 1, "said once");
    // Killed, and started on what is on the disk.
    bot.kill().await.tells_nothing();
    assert!(house.answers().await.iter().any(|(_, kept, _)| *kept == day));
    house.start_polling().await.stop(Signal::TERM).await.cleanly();
}

/// A way into mounts of one's own, where there is one.
fn own_mounts() -> Option<&'static [&'static str]> {
    let ways: [&[&str]; 2] = [&["unshare", "--mount"], &["unshare", "--map-root-user", "--mount"]];
    ways.into_iter().find(|way| works(way, "mount -t tmpfs none /tmp && mount -o remount,ro /tmp"))
}

fn works(way: &[&str], script: &str) -> bool {
    let mut probe = Command::new(way[0]);
    probe.args(&way[1..]).args(["/bin/sh", "-c", script]);
    probe.output().is_ok_and(|output| output.status.success())
}

/// `serve` in a shell that came in this way and prepares what the script says.
fn inside(way: &[&str], script: &str, house: &House) -> impl Fn() -> Command {
    move || {
        let serve = house.command(&["serve"]);
        let mut command = Command::new(way[0]);
        command.args(&way[1..]).args(["/bin/sh", "-c", script]);
        command.arg(serve.get_program()).args(serve.get_args()).env_clear();
        command.envs(serve.get_envs().filter_map(|(name, value)| Some((name, value?))));
        command.current_dir(serve.get_current_dir().unwrap());
        command
    }
}
