//! Pictures and documents: sent in parts, kept under an id, sent again by it.

use reqwest::multipart::{Form, Part};
use serde_json::{Value, json};
use teloxide_core::types::Message;

use duskrow::rehearsal::SeenKind;

use super::{MAREN, World};

const PNG: &[u8] = b"\x89PNG\r\n\x1a\n\0\0\0\x0dIHDR\0\0\x04\x9e\0\0\x04\x38 and the rest";

async fn upload(world: &World, method: &str, form: Form) -> Value {
    let form = form.text("chat_id", MAREN.to_string());
    let request = world.http.post(world.url(method)).multipart(form);
    request.send().await.unwrap().json().await.unwrap()
}

#[tokio::test]
async fn a_picture_arrives_with_its_size_and_can_be_sent_again_by_its_id() {
    let world = World::new().await;
    let part = Part::bytes(PNG).file_name("year.png");
    let form = Form::new().part("photo", part).text("caption", "The year so far.");
    let answer = upload(&world, "sendPhoto", form).await;
    let sent: Message = serde_json::from_value(answer["result"].clone()).unwrap();
    let photo = &sent.photo().unwrap()[0];
    assert_eq!((photo.width, photo.height), (1182, 1080));
    assert_eq!(sent.caption(), Some("The year so far."));

    let again = json!({ "chat_id": MAREN, "photo": photo.file.id });
    world.ok("sendPhoto", again.clone()).await;
    let seen = world.platform.seen_by(MAREN);
    assert_eq!(seen[2].kind, SeenKind::Picture);
    let file = seen[2].file.as_ref().unwrap();
    assert_eq!((file.name.as_str(), file.size), ("year.png", Some((1182, 1080))));
    assert_eq!(file.bytes.as_slice(), PNG);

    let as_document = json!({ "chat_id": MAREN, "document": photo.file.id });
    let refused = world.refused("sendDocument", as_document).await;
    assert_eq!(refused, "Bad Request: can't use file of type Photo as Document");
    let edit = json!({ "chat_id": MAREN, "message_id": sent.id.0, "text": "a" });
    let refused = world.refused("editMessageText", edit).await;
    assert_eq!(refused, "Bad Request: there is no text in the message to edit");
}

#[tokio::test]
async fn a_document_attached_under_another_name_arrives() {
    let world = World::new().await;
    let part = Part::bytes(b"date,tier\n".as_slice()).file_name("book.csv");
    let form = Form::new().text("document", "attach://part7").part("part7", part);
    let answer = upload(&world, "sendDocument", form).await;
    let sent: Message = serde_json::from_value(answer["result"].clone()).unwrap();
    assert_eq!(sent.document().unwrap().file_name.as_deref(), Some("book.csv"));
    let seen = world.platform.seen_by(MAREN);
    assert_eq!(seen[1].kind, SeenKind::Document);
    assert_eq!(seen[1].file.as_ref().unwrap().bytes.as_slice(), b"date,tier\n");
    assert_eq!(world.platform.requests()[0].params["document"], json!("attach://part7"));
}

#[tokio::test]
async fn a_large_document_passes_and_one_that_is_too_large_does_not() {
    let world = World::new().await;
    for (bytes, status) in [(11 << 20, 200), ((50 << 20) + 1, 413)] {
        let form = Form::new().part("document", Part::bytes(vec![7; bytes]).file_name("sheet.pdf"));
        let answer = upload(&world, "sendDocument", form).await;
        let code = answer.get("error_code").cloned().unwrap_or(json!(200));
        assert_eq!(code, json!(status));
    }
    assert_eq!(world.platform.seen_by(MAREN).len(), 2);
}

#[tokio::test]
async fn a_missing_unknown_or_unreadable_file_is_refused() {
    let world = World::new().await;
    let none = world.refused("sendPhoto", json!({ "chat_id": MAREN })).await;
    assert_eq!(none, "Bad Request: there is no photo in the request");
    let unknown = world.refused("sendPhoto", json!({ "chat_id": MAREN, "photo": "AgAC" })).await;
    assert_eq!(unknown, "Bad Request: wrong file identifier/HTTP URL specified");
    let form = Form::new().part("photo", Part::bytes(b"no picture".as_slice()).file_name("a.png"));
    let answer = upload(&world, "sendPhoto", form).await;
    assert_eq!(answer["description"], json!("Bad Request: IMAGE_PROCESS_FAILED"));
    let stray = Part::bytes(PNG).file_name("a.png");
    let form = Form::new().text("text", "a").part("stray", stray);
    let answer = upload(&world, "sendMessage", form).await;
    assert_eq!(answer["description"], json!("Bad Request: stand-in: unknown parameter stray"));
}
