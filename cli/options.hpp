// What a command line may say, in plain types. options.cpp alone knows the library that parses it.
#pragma once

#include <functional>
#include <map>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "twoturn/write/commands_document.hpp"

namespace CLI {
class App;
class Option;
}  // namespace CLI

namespace twoturn::cli {

/// One option, to be described further; each function gives the option back.
class Option {
 public:
  Option(CLI::Option* option, OptionAbout& about) : option_(option), about_(&about) {}

  Option required() const;
  Option hint(const std::string& what) const;      ///< what stands for the value in --help
  Option within(double low, double high) const;    ///< a finite number, both ends included
  Option between_counts(int low, int high) const;  ///< a whole number, both ends included
  Option one_of(const std::vector<std::string>& words) const;
  Option translated(const std::map<std::string, int>& words) const;  ///< letters of either size
  Option one_at_a_time() const;  ///< may be repeated, with one value each time
  Option divided_by_commas() const;
  Option showing_default() const;
  Option excludes(const Option& other) const;

 private:
  CLI::Option* option_;
  OptionAbout* about_;
};

/// One command of the program. Values go into the variables that are named, which must outlive the
/// parsing; what is told of each option goes into `about`.
class Command {
 public:
  Command(CLI::App* command, CommandAbout& about) : command_(command), about_(&about) {}

  Option flag(const std::string& name, bool& into, const std::string& what) const;
  Option option(const std::string& name, std::string& into, const std::string& what) const;
  Option option(const std::string& name, int& into, const std::string& what) const;
  Option option(const std::string& name, double& into, const std::string& what) const;
  Option option(const std::string& name, std::optional<int>& into, const std::string& what) const;
  Option option(const std::string& name, std::optional<double>& into,
                const std::string& what) const;
  Option option(const std::string& name, std::vector<std::string>& into,
                const std::string& what) const;
  Option option(const std::string& name, std::vector<int>& into, const std::string& what) const;
  Option option(const std::string& name, std::vector<double>& into, const std::string& what) const;
  void when_chosen(std::function<void()> run) const;

 private:
  OptionAbout& told(const std::string& name, const std::string& what,
                    OptionAbout::Takes takes) const;

  CLI::App* command_;
  CommandAbout* about_;
};

/// What parsing a command line came to: nothing more to say, text to print, or wrong usage.
struct Parsed {
  enum class Kind { chosen, text, wrong };
  Kind kind = Kind::chosen;
  std::string text;  ///< of --help and --version, or why the usage is wrong
};

/// The program's command line: one command of several.
class Program {
 public:
  Program(const std::string& name, const std::string& what, const std::string& version);
  ~Program();
  Program(const Program&) = delete;
  Program& operator=(const Program&) = delete;

  /// `describe` gives the command its options; it is asked only where this command is named.
  void command(const std::string& name, const std::string& what,
               std::function<void(const Command&)> describe);
  Parsed parse(int argc, char** argv);
  /// Every command with all of its options, in the order in which they were added.
  std::vector<CommandAbout> about() const;

 private:
  struct Described {
    std::string name;
    std::string what;
    std::function<void(const Command&)> describe;
  };
  void add(const Described& described);

  std::unique_ptr<CLI::App> app_;
  CommandAbout named_;
  std::vector<Described> commands_;
};

}  // namespace twoturn::cli
