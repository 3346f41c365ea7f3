// Runs the built command and keeps what it said: exit code, standard output and standard error.
#pragma once

#include <sys/wait.h>

#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <nlohmann/json.hpp>
#include <sstream>
#include <string>

#include "support/catch.hpp"

namespace twoturn::test {

using Json = nlohmann::json;

struct Ran {
  int code = -1;
  std::string out;
  std::string err;

  Json json() const { return Json::parse(out); }
};

/// A folder of its own for one test, gone afterwards; commands run in it.
class Bench {
 public:
  Bench() {
    std::string pattern = (std::filesystem::temp_directory_path() / "twoturn-XXXXXX").string();
    if (mkdtemp(pattern.data()) == nullptr) std::abort();
    folder_ = pattern;
  }
  ~Bench() {
    std::error_code ignored;
    std::filesystem::remove_all(folder_, ignored);
  }
  Bench(const Bench&) = delete;
  Bench& operator=(const Bench&) = delete;

  std::filesystem::path path(const std::string& name) const { return folder_ / name; }

  void write(const std::string& name, const std::string& text) const {
    std::ofstream(path(name), std::ios::binary) << text;
  }

  /// Runs "twoturn <arguments>" through the shell. `redirect` may send standard output or input
  /// elsewhere.
  Ran run(const std::string& arguments, const std::string& redirect = "") const {
    const std::string command = "cd '" + folder_.string() + "' && '" + TWOTURN_COMMAND + "' " +
                                arguments + " >.out 2>.err </dev/null " + redirect;
    const int status = std::system(command.c_str());
    Ran ran;
    ran.code = WIFEXITED(status) ? WEXITSTATUS(status) : 1000 + status;
    ran.out = read(".out");
    ran.err = read(".err");
    return ran;
  }

  std::string read(const std::string& name) const {
    std::ostringstream text;
    text << std::ifstream(path(name), std::ios::binary).rdbuf();
    return text.str();
  }

 private:
  std::filesystem::path folder_;
};

/// A run that ended well: the code expected and not a word on standard error.
inline Ran done(const Bench& bench, const std::string& arguments, int code = 0) {
  Ran ran = bench.run(arguments);
  INFO("twoturn " << arguments << "\n" << ran.err << ran.out);
  REQUIRE(ran.code == code);
  REQUIRE(ran.err.empty());
  REQUIRE_FALSE(ran.out.empty());
  REQUIRE(ran.out.back() == '\n');
  return ran;
}

/// A run that ended badly: the code expected, a reason on standard error and nothing elsewhere.
inline Ran refused(const Bench& bench, const std::string& arguments, int code) {
  Ran ran = bench.run(arguments);
  INFO("twoturn " << arguments << "\n" << ran.err << ran.out);
  REQUIRE(ran.code == code);
  REQUIRE(ran.out.empty());
  REQUIRE_FALSE(ran.err.empty());
  return ran;
}

}  // namespace twoturn::test
