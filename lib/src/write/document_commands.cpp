#include "document_parts.hpp"
#include "twoturn/base/numbers.hpp"
#include "twoturn/write/commands_document.hpp"
#include "words/sentences.hpp"

namespace twoturn {
namespace {

using documents::Json;

std::string takes_word(OptionAbout::Takes takes) {
  switch (takes) {
    case OptionAbout::Takes::nothing:
      return "nothing";
    case OptionAbout::Takes::text:
      return "text";
    case OptionAbout::Takes::whole:
      return "whole number";
    case OptionAbout::Takes::number:
      return "number";
  }
  return "";
}

std::string values_of(const OptionAbout& option) {
  if (option.takes == OptionAbout::Takes::nothing) return "";
  std::string text = " (" + takes_word(option.takes);
  for (const std::string& word : option.words)
    text += (&word == &option.words.front() ? ": " : ", ") + word;
  if (option.least && option.most) {
    text += " from " + shortest(*option.least, 3) + " to " + shortest(*option.most, 3);
  }
  if (!option.by_default.empty()) text += "; else " + option.by_default;
  return text + ")";
}

}  // namespace

std::string commands_text(const std::vector<CommandAbout>& commands) {
  std::string text;
  for (const CommandAbout& command : commands) {
    text += (text.empty() ? "" : "\n") + sentences::wrapped(command.name + ": " + command.what);
    for (const OptionAbout& option : command.options) {
      constexpr int kIndent = 4;
      constexpr std::size_t kWidth = 78;
      text += "  " + sentences::wrapped(option.name + values_of(option) + ": " + option.what,
                                        kIndent, kWidth);
    }
  }
  return text;
}

std::string commands_document(const std::vector<CommandAbout>& commands) {
  Json list = Json::array();
  for (const CommandAbout& command : commands) {
    Json options = Json::array();
    for (const OptionAbout& option : command.options) {
      options.push_back(
          {{"name", option.name},
           {"what", option.what},
           {"takes", takes_word(option.takes)},
           {"hint", option.hint},
           {"words", option.words},
           {"least", documents::number(option.least)},
           {"most", documents::number(option.most)},
           {"default", option.by_default.empty() ? Json(nullptr) : Json(option.by_default)},
           {"required", option.required},
           {"repeats", option.repeats}});
    }
    list.push_back(
        {{"name", command.name}, {"what", command.what}, {"options", std::move(options)}});
  }
  return documents::printed({{"command", "commands"}, {"commands", std::move(list)}});
}

}  // namespace twoturn
