#pragma once

#include <functional>
#include <stdexcept>
#include <string>
#include <vector>

#include "twoturn/base/problem.hpp"
#include "twoturn/drive/spec.hpp"

namespace twoturn {

/// One value put in place of the file's before it is read: KEY=VALUE on the command line. The key
/// is a dotted path ("pulley.cam.teeth", "pulley.3.teeth"); the value is TOML, or a bare word.
struct Override {
  std::string key;
  std::string value;
};

/// A file that a profile names (a measured lift table), as it was found beside it.
struct TableText {
  std::string name;  ///< as the profile names it
  std::string text;
  std::string fault;  ///< why there is no text; empty where there is
};

/// Hands over the table file of a name. Asked once for each table that a profile names, and only
/// for plain names: a file beside the profile.
using FindTable = std::function<TableText(const std::string& name)>;

/// A profile as it was found: its name for messages, all its text, what is set over it, and who has
/// the tables that it names.
struct ProfileText {
  std::string name;
  std::string text;
  std::vector<Override> settings;
  FindTable find_table{};
  /// Whether `DriveSpec::fingerprint` is worked out: who writes or reads a record wants it.
  enum class Fingerprint { left_out, wanted };
  Fingerprint fingerprint = Fingerprint::left_out;
};

/// Everything that makes an input unusable, at once. `what()` holds one line a problem.
class InputError : public std::runtime_error {
 public:
  explicit InputError(std::vector<Problem> problems);

  const std::vector<Problem>& problems() const { return problems_; }

 private:
  std::vector<Problem> problems_;
};

/// Reads a profile: every key, every number with its line and origin. Lengths come out in mm, clock
/// angles in degrees. What the file says is then judged by `validate`. Throws InputError once, with
/// the problems of both in the order of the file; of more than `kMostProblems` the first ones. A
/// text that is not TOML yields its syntax errors alone.
DriveSpec read_profile(const ProfileText& profile);

inline constexpr int kMostProblems = 100;

/// Every key that the reader knows, as dotted paths with * for a name or a number, each length
/// under all its units. Made by the code that reads, in its order.
std::vector<std::string> profile_keys();

}  // namespace twoturn
