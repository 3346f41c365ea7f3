#include "options.hpp"

#include <CLI/CLI.hpp>
#include <algorithm>

#include "twoturn/base/numbers.hpp"
#include "twoturn/base/parse_number.hpp"
#include "twoturn/base/problem.hpp"

namespace twoturn::cli {
namespace {

// Unlike the library's own range it refuses what is not finite.
CLI::Validator in_range(double low, double high) {
  const std::string range = shortest(low, 3) + " to " + shortest(high, 3);
  const auto check = [low, high, range](std::string& text) {
    const std::optional<double> value = parsed_number(text);
    return value && *value >= low && *value <= high ? std::string()
                                                    : text + ": must be a number from " + range;
  };
  return CLI::Validator(check, range);
}

// The words of a wrong command line, with the nearest command where it names none.
std::string usage_words(const CLI::App& program, int argc, char** argv,
                        const CLI::ParseError& error) {
  std::string words = error.what();
  if (program.get_subcommands().empty() && argc > 1 && argv[1][0] != '-') {
    std::vector<std::string> names;
    for (const CLI::App* command : program.get_subcommands({}))
      names.push_back(command->get_name());
    const std::string nearest = nearest_word(argv[1], names);
    words = std::string("there is no command \"") + argv[1] + "\"" +
            (nearest.empty() ? "" : "; did you mean \"" + nearest + "\"?");
  }
  const auto chosen = program.get_subcommands();
  const std::string command = chosen.empty() ? "" : chosen.front()->get_name() + " ";
  return words + "\nRun \"twoturn " + command + "--help\" for what can be asked.";
}

}  // namespace

Option Option::required() const {
  about_->required = true;
  option_->required();
  return *this;
}
Option Option::hint(const std::string& what) const {
  about_->hint = what;
  option_->type_name(what);
  return *this;
}
Option Option::within(double low, double high) const {
  about_->least = low;
  about_->most = high;
  option_->check(in_range(low, high));
  return *this;
}
Option Option::between_counts(int low, int high) const {
  about_->least = low;
  about_->most = high;
  option_->check(CLI::Range(low, high));
  return *this;
}
Option Option::one_of(const std::vector<std::string>& words) const {
  about_->words = words;
  option_->check(CLI::IsMember(words));
  return *this;
}
Option Option::translated(const std::map<std::string, int>& words) const {
  for (const auto& [word, value] : words) about_->words.push_back(word);
  option_->transform(CLI::CheckedTransformer(words, CLI::ignore_case));
  return *this;
}
Option Option::one_at_a_time() const {
  about_->repeats = true;
  option_->allow_extra_args(false);
  return *this;
}
Option Option::divided_by_commas() const {
  option_->delimiter(',');
  return *this;
}
Option Option::showing_default() const {
  option_->capture_default_str();
  about_->by_default = option_->get_default_str();
  return *this;
}
Option Option::excludes(const Option& other) const {
  option_->excludes(other.option_);
  return *this;
}

OptionAbout& Command::told(const std::string& name, const std::string& what,
                           OptionAbout::Takes takes) const {
  return about_->options.emplace_back(OptionAbout{name, what, takes});
}

Option Command::flag(const std::string& name, bool& into, const std::string& what) const {
  OptionAbout& about = told(name, what, OptionAbout::Takes::nothing);
  return {command_->add_flag(name, into, what), about};
}
Option Command::option(const std::string& name, std::string& into, const std::string& what) const {
  OptionAbout& about = told(name, what, OptionAbout::Takes::text);
  return {command_->add_option(name, into, what), about};
}
Option Command::option(const std::string& name, int& into, const std::string& what) const {
  OptionAbout& about = told(name, what, OptionAbout::Takes::whole);
  return {command_->add_option(name, into, what), about};
}
Option Command::option(const std::string& name, double& into, const std::string& what) const {
  OptionAbout& about = told(name, what, OptionAbout::Takes::number);
  return {command_->add_option(name, into, what), about};
}
Option Command::option(const std::string& name, std::optional<int>& into,
                       const std::string& what) const {
  OptionAbout& about = told(name, what, OptionAbout::Takes::whole);
  return {command_->add_option(name, into, what), about};
}
Option Command::option(const std::string& name, std::optional<double>& into,
                       const std::string& what) const {
  OptionAbout& about = told(name, what, OptionAbout::Takes::number);
  return {command_->add_option(name, into, what), about};
}
Option Command::option(const std::string& name, std::vector<std::string>& into,
                       const std::string& what) const {
  OptionAbout& about = told(name, what, OptionAbout::Takes::text);
  return {command_->add_option(name, into, what), about};
}
Option Command::option(const std::string& name, std::vector<int>& into,
                       const std::string& what) const {
  OptionAbout& about = told(name, what, OptionAbout::Takes::whole);
  return {command_->add_option(name, into, what), about};
}
Option Command::option(const std::string& name, std::vector<double>& into,
                       const std::string& what) const {
  OptionAbout& about = told(name, what, OptionAbout::Takes::number);
  return {command_->add_option(name, into, what), about};
}
void Command::when_chosen(std::function<void()> run) const { command_->callback(std::move(run)); }

Program::Program(const std::string& name, const std::string& what, const std::string& version)
    : app_(std::make_unique<CLI::App>(what)) {
  app_->name(name);
  app_->require_subcommand(1);
  app_->set_version_flag("--version", version);
}

Program::~Program() = default;

void Program::command(const std::string& name, const std::string& what,
                      std::function<void(const Command&)> describe) {
  commands_.push_back({name, what, std::move(describe)});
}

void Program::add(const Described& described) {
  CLI::App* command = app_->add_subcommand(described.name, described.what);
  command->preparse_callback(
      [this, command, &described](std::size_t) { described.describe(Command(command, named_)); });
}

std::vector<CommandAbout> Program::about() const {
  std::vector<CommandAbout> list;
  for (const Described& one : commands_) {
    CLI::App unused;
    CommandAbout about{one.name, one.what, {}};
    one.describe(Command(&unused, about));
    list.push_back(std::move(about));
  }
  return list;
}

Parsed Program::parse(int argc, char** argv) {
  // One that is named first is the only one that can be meant.
  const auto named = std::find_if(commands_.begin(), commands_.end(), [&](const Described& one) {
    return argc > 1 && one.name == argv[1];
  });
  for (const Described& one : commands_) {
    if (named == commands_.end() || &one == &*named) add(one);
  }
  try {
    app_->parse(argc, argv);
  } catch (const CLI::CallForHelp&) {
    return {Parsed::Kind::text, app_->help()};
  } catch (const CLI::CallForVersion&) {
    return {Parsed::Kind::text, app_->version() + '\n'};
  } catch (const CLI::ParseError& error) {
    return {Parsed::Kind::wrong, usage_words(*app_, argc, argv, error)};
  }
  return {};
}

}  // namespace twoturn::cli
