//! Who is the bot, which commands does it list, where are its files? getMe, the command lists,
//! getFile, no webhook.

use serde_json::{Map, Value, json};

use super::super::reading::entities::units;
use super::super::reading::params::{Params, only_keys};
use super::super::{Moment, Platform, Refusal};

const MAX_COMMANDS: usize = 100;
const MAX_COMMAND_BYTES: usize = 32;
const MAX_DESCRIPTION_UNITS: usize = 256;

impl Platform {
    pub(super) fn get_me(&self, params: &Params) -> Result<Value, Refusal> {
        params.only(&[])?;
        let mut me = self.wire_bot();
        if let Some(me) = me.as_object_mut() {
            for (key, value) in [
                ("can_join_groups", true),
                ("can_read_all_group_messages", false),
                ("supports_inline_queries", false),
                ("can_connect_to_business", false),
                ("has_main_web_app", false),
            ] {
                me.insert(key.to_owned(), json!(value));
            }
        }
        Ok(me)
    }

    pub(super) fn get_file(&self, params: &Params) -> Result<Value, Refusal> {
        params.only(&["file_id"])?;
        let id = params.text("file_id")?.unwrap_or_default();
        self.state.files.described(id)
    }

    pub(super) fn set_my_commands(&mut self, params: &Params) -> Result<Value, Refusal> {
        params.only(&["commands", "scope", "language_code"])?;
        let scope = self.scope(params)?;
        let Some(commands) = params.list("commands")? else {
            return Err(Refusal::bad_request("parameter \"commands\" is required"));
        };
        if commands.len() > MAX_COMMANDS {
            return Err(Refusal::bad_request("BOT_COMMANDS_TOO_MUCH"));
        }
        commands.iter().try_for_each(command)?;
        self.state.commands.insert(scope, json!(commands));
        Ok(json!(true))
    }

    pub(super) fn get_my_commands(&self, params: &Params) -> Result<Value, Refusal> {
        params.only(&["scope", "language_code"])?;
        let scope = self.scope(params)?;
        Ok(self.state.commands.get(&scope).cloned().unwrap_or_else(|| json!([])))
    }

    pub(super) fn delete_my_commands(&mut self, params: &Params) -> Result<Value, Refusal> {
        params.only(&["scope", "language_code"])?;
        let scope = self.scope(params)?;
        self.state.commands.remove(&scope);
        Ok(json!(true))
    }

    pub(super) fn get_webhook_info(
        &mut self,
        params: &Params,
        now: Moment,
    ) -> Result<Value, Refusal> {
        params.only(&[])?;
        let pending = self.unconfirmed(now);
        Ok(json!({
            "url": "", "has_custom_certificate": false, "pending_update_count": pending,
            "allowed_updates": self.state.queue.allowed().unwrap_or_default(),
        }))
    }

    pub(super) fn delete_webhook(&mut self, params: &Params) -> Result<Value, Refusal> {
        params.only(&["drop_pending_updates"])?;
        if params.boolean("drop_pending_updates")? {
            self.state.queue.clear();
        }
        Ok(json!(true))
    }

    /// The name of the list that a scope and a language stand for.
    fn scope(&self, params: &Params) -> Result<String, Refusal> {
        let language = params.text("language_code")?.unwrap_or_default();
        let two_letters = language.len() == 2 && language.bytes().all(|b| b.is_ascii_lowercase());
        if !language.is_empty() && !two_letters {
            return Err(Refusal::bad_request("invalid language code specified"));
        }
        let none = Map::new();
        let scope = params.object("scope")?.unwrap_or(&none);
        let kind = scope.get("type").and_then(Value::as_str).unwrap_or("default");
        let chat = match kind {
            "default" | "all_private_chats" | "all_group_chats" | "all_chat_administrators" => {
                only_keys(scope, "BotCommandScope", &["type"])?;
                0
            }
            "chat" => {
                only_keys(scope, "BotCommandScope", &["type", "chat_id"])?;
                let id = scope.get("chat_id").and_then(Value::as_i64).unwrap_or_default();
                if !self.state.chats.contains_key(&id) {
                    return Err(Refusal::bad_request("chat not found"));
                }
                id
            }
            _ => {
                let why = "can't parse BotCommandScope: Unsupported type specified";
                return Err(Refusal::bad_request(why));
            }
        };
        Ok(format!("{kind} {chat} {language}"))
    }
}

fn command(value: &Value) -> Result<(), Refusal> {
    let cannot = |why: &str| Refusal::bad_request(format!("can't parse BotCommand: {why}"));
    let object = value.as_object().ok_or_else(|| cannot("expected an Object"))?;
    only_keys(object, "BotCommand", &["command", "description"])?;
    let text = |name: &str| {
        let why = || cannot(&format!("can't find field \"{name}\""));
        object.get(name).and_then(Value::as_str).ok_or_else(why)
    };
    let (name, description) = (text("command")?, text("description")?);
    let letter = |b: u8| b.is_ascii_lowercase() || b.is_ascii_digit() || b == b'_';
    if !(1..=MAX_COMMAND_BYTES).contains(&name.len()) || !name.bytes().all(letter) {
        return Err(Refusal::bad_request("BOT_COMMAND_INVALID"));
    }
    if !(1..=MAX_DESCRIPTION_UNITS).contains(&units(description.trim())) {
        return Err(Refusal::bad_request("BOT_COMMAND_DESCRIPTION_INVALID"));
    }
    Ok(())
}
