#include <array>
#include <random>
#include <string>

#include "read/profile_samples.hpp"
#include "support/catch.hpp"
#include "twoturn/read/profile.hpp"

using namespace twoturn;

namespace {

constexpr unsigned kSeed = 20240611;
constexpr int kTexts = 6000;

// Reads a text that may be anything. True where it came to one of the two ends that there are.
bool ends_well(const std::string& text, const std::vector<Override>& settings = {}) {
  try {
    const DriveSpec spec = read_profile({"any.toml", text, settings});
    return spec.pulleys.size() >= 2;
  } catch (const InputError& error) {
    return !error.problems().empty() &&
           error.problems().size() <= static_cast<std::size_t>(kMostProblems) + 1;
  }
}

class Mutator {
 public:
  std::string changed(std::string text) {
    const int changes = 1 + pick(4);
    for (int i = 0; i < changes && !text.empty(); ++i) change(text);
    return text;
  }

 private:
  int pick(std::size_t below) {
    return static_cast<int>(std::uniform_int_distribution<std::size_t>(0, below - 1)(engine_));
  }

  std::size_t place(const std::string& text) { return static_cast<std::size_t>(pick(text.size())); }

  std::string line_at(const std::string& text, std::size_t at) {
    const std::size_t start = at == 0 ? 0 : text.rfind('\n', at - 1) + 1;
    return text.substr(start, text.find('\n', start) - start + 1);
  }

  void change(std::string& text) {
    static const std::array<std::string, 24> kPieces{
        "\"",     "'",     "[",    "]",
        "{",      "}",     "=",    ",",
        ".",      "\n",    "-",    "nan",
        "inf",    "1e999", "0,3",  "[[pulley]]\n",
        "\"\"\"", "\\u12", "“",    std::string(1, '\0'),
        "\r",     "0x",    "4:30", "[a.b.c]\n"};
    const std::size_t at = place(text);
    switch (pick(7)) {
      case 0:
        text[at] = static_cast<char>(pick(256));
        break;
      case 1:
        text.erase(at, static_cast<std::size_t>(1 + pick(20)));
        break;
      case 2:
        text.insert(at, kPieces[static_cast<std::size_t>(pick(kPieces.size()))]);
        break;
      case 3:
        text.insert(place(text), line_at(text, at));
        break;
      case 4:
        text.erase(text.find(line_at(text, at)), line_at(text, at).size());
        break;
      case 5:
        text.resize(at);
        break;
      default:
        text.insert(at, std::to_string(pick(100000) - 50000));
        break;
    }
  }

  std::mt19937 engine_{kSeed};
};

}  // namespace

TEST_CASE("A profile damaged anywhere still reads or is refused, never worse") {
  const std::array<std::string, 3> whole{samples::kLaunch, samples::kCounts, samples::kEverything};
  Mutator mutator;
  int refused = 0;
  for (int i = 0; i < kTexts; ++i) {
    const std::string text = mutator.changed(whole[static_cast<std::size_t>(i) % whole.size()]);
    INFO("seed " << kSeed << ", text " << i << ":\n" << text);
    const bool well = ends_well(text);
    if (!well) FAIL("came to no good end");
    refused += well ? 1 : 0;
  }
  CHECK(refused == kTexts);
}

TEST_CASE("Any setting reads or is refused, never worse") {
  Mutator mutator;
  for (int i = 0; i < kTexts / 4; ++i) {
    const std::string key = mutator.changed("pulley.cam.tensioner.at_mm[1]");
    const std::string value = mutator.changed("[0, \"a\"]");
    INFO("seed " << kSeed << ", " << key << " = " << value);
    if (!ends_well(samples::kLaunch, {{key, value}})) FAIL("came to no good end");
  }
  SUCCEED();
}

TEST_CASE("Texts nested beyond all sense are refused before they are read") {
  const auto repeated = [](const std::string& piece, int count) {
    std::string text;
    for (int i = 0; i < count; ++i) text += piece;
    return text;
  };
  constexpr int kDeep = 200000;
  const std::string rule = "nested more than 32 deep; a profile has no more than 4";
  for (const std::string& text : {"a = " + repeated("[", kDeep), "a = " + repeated("{a=", kDeep),
                                  repeated("a.", kDeep) + "a=1", "[" + repeated("a.", kDeep) + "a]",
                                  repeated("\"a\".", kDeep) + "a=1"}) {
    try {
      read_profile({"p.toml", text, {}});
      FAIL("read");
    } catch (const InputError& error) {
      CHECK_THAT(error.what(), EndsWith(rule));
    }
  }
}

TEST_CASE("Four megabytes of anything are refused in little time and few lines") {
  constexpr std::size_t kSize = 4u << 20;
  const auto filled = [](const std::string& piece) {
    std::string text;
    while (text.size() < kSize) text += piece;
    return text;
  };
  std::string numbered;
  for (int i = 0; numbered.size() < kSize; ++i) numbered += "k" + std::to_string(i) + " = 1\n";
  std::string origins = samples::kLaunch + "[origin]\n";
  for (int i = 0; origins.size() < kSize; ++i) {
    origins += "\"pulley.cam.k" + std::to_string(i) + "\" = \"manual\"\n";
  }
  for (const std::string& text :
       {filled("="), filled("a"), filled("\""), filled("# "), filled("teeth = 0,3\n"),
        filled("[[pulley]]\n"), filled("[[cover]]\npoints_mm = [[1,2]]\n"),
        "a = [" + filled("1,") + "]", numbered, origins, "title = \"" + filled("x") + "\"",
        filled("x") + " = 1", filled("a=b,"), filled("“"), filled("\n")}) {
    INFO(text.substr(0, 60));
    CHECK(ends_well(text));
  }
}
