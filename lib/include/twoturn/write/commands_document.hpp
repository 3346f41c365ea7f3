#pragma once

#include <list>
#include <optional>
#include <string>
#include <vector>

namespace twoturn {

/// One option of a command, for who asks by a form in place of a command line.
struct OptionAbout {
  enum class Takes { nothing, text, whole, number };
  std::string name;  ///< "--crank"; "PROFILE" of what stands without a name
  std::string what;
  Takes takes = Takes::nothing;
  std::string hint{};                ///< "FILE", "KEY=VALUE", "DEG"
  std::vector<std::string> words{};  ///< where it is one of these
  std::optional<double> least{};
  std::optional<double> most{};
  std::string by_default{};
  bool required = false;
  bool repeats = false;  ///< may be given more than once
};

struct CommandAbout {
  std::string name;
  std::string what;
  std::list<OptionAbout> options;  ///< a list: each stays where it is
};

/// Every command and all that it can be asked.
std::string commands_document(const std::vector<CommandAbout>& commands);
std::string commands_text(const std::vector<CommandAbout>& commands);

}  // namespace twoturn
