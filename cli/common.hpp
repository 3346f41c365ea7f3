// What the commands share: options, reading the profile, results and how they end.
#pragma once

#include <functional>
#include <optional>
#include <stdexcept>
#include <string>
#include <vector>

#include "options.hpp"
#include "twoturn/drive/build_drive.hpp"
#include "twoturn/read/profile.hpp"
#include "twoturn/study/check.hpp"
#include "twoturn/study/no_answer.hpp"

namespace twoturn::cli {

enum ExitCode : int {
  kDone = 0,
  kStopOrNone = 1,
  kWrongUsage = 2,
  kUnusableInput = 3,
  kNotWritten = 4,
  kFault = 70,
};

/// All that a command prints, and its exit code. Nothing is printed before it is complete.
struct Output {
  std::string text;
  int code = kDone;
};

/// The command that was chosen, with its options, ready to run.
using Job = std::function<Output()>;

/// The command line asks for something that cannot be: exit 2.
class UsageError : public std::runtime_error {
 public:
  using std::runtime_error::runtime_error;
};

/// The options that commands have in common.
struct Asked {
  std::string profile;  ///< path, or "-" for standard input
  bool json = false;
  bool csv = false;
  bool by_the_book = false;
  bool strict = false;
  std::vector<std::string> set;

  Fit fit() const { return by_the_book ? Fit::by_the_book : Fit::as_fitted; }
};

enum class Profile { required, optional };
enum class Table { none, csv };
enum class Verdict { none, strict };

/// Adds the profile and the common options to a command.
void add_common(const Command& command, Asked& asked, Profile profile, Table table,
                Verdict verdict);

/// Reads and judges the profile with `--set` applied. Throws InputError, or UsageError for a --set
/// that is not KEY=VALUE.
DriveSpec read_spec(const Asked& asked,
                    ProfileText::Fingerprint fingerprint = ProfileText::Fingerprint::left_out);

/// A profile read and, where it says enough, built.
struct Built {
  DriveSpec spec;
  std::optional<Fitted> fitted;
  Heading heading;
};
Built read_and_build(const Asked& asked, const std::string& command);
/// The same drive without what [build] changed; none where it says too little.
std::optional<Fitted> by_the_book(const Built& built);
Heading heading_for(const Asked& asked, const DriveSpec& spec, const std::string& command);

/// --crank DEG of the commands that say where pistons stand.
void add_crank_place(const Command& command, std::optional<double>& crank_deg);

/// What a verdict ends with: a stop 1, "look again" 1 where --strict asks for it, else 0.
int exit_code(const Asked& asked, twoturn::Verdict verdict);

/// A record is of the job as fitted: throws UsageError beside --by-the-book.
void refuse_record_by_the_book(const Asked& asked);

/// The answer is "none": text or document, exit 1.
Output none(const Asked& asked, const Heading& heading, const NoAnswer& answer);

/// A clock angle in degrees, or as on a clock face ("4:30" is 135). Throws UsageError.
double clock_angle(const std::string& option, const std::string& text);
/// A finite number. Throws UsageError.
double number(const std::string& option, const std::string& text);

}  // namespace twoturn::cli
