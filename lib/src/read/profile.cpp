#include "twoturn/read/profile.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <tuple>

#include "fingerprint.hpp"
#include "profile_parts.hpp"
#include "toml_document.hpp"
#include "toml_text.hpp"
#include "toml_tree.hpp"
#include "twoturn/base/utf8.hpp"
#include "twoturn/drive/place.hpp"
#include "twoturn/drive/validate.hpp"

namespace twoturn {
namespace {

using reading::Place;
using reading::Reading;
using reading::refuse;
using reading::Section;

std::string all_lines(const std::vector<Problem>& problems) {
  std::string lines;
  for (const Problem& problem : problems) {
    if (!lines.empty()) lines += '\n';
    lines += describe(problem);
  }
  return lines;
}

// Finds the place of a problem of the spec: that of its key, or of the table it would stand in.
void place_problem(Problem& problem, const Reading& reading, const toml::table& tree) {
  std::string where = reading::by_number(tree, problem.key);
  const std::string whole = where;
  while (!where.empty()) {
    const auto found = std::find_if(reading.nodes.begin(), reading.nodes.end(),
                                    [&](const auto& node) { return node.first == where; });
    if (found != reading.nodes.end()) {
      const Place place = reading.place(found->second->source());
      problem.file = place.file;
      problem.line = place.line;
      problem.column = place.column;
      return;
    }
    const std::size_t cut = where.find_last_of(".[");
    where.resize(cut == std::string::npos ? 0 : cut);
  }
}

// True where the reader has said already what is wrong with this key.
bool blamed(const Problem& problem, const Reading& reading, const toml::table& tree) {
  const std::string where = reading::by_number(tree, problem.key);
  if (reading.blamed.count(where) > 0) return true;
  const std::size_t star = where.find('*');
  if (star == std::string::npos) return false;
  const std::string before = where.substr(0, star);
  const std::string after = where.substr(star + 1);
  return std::any_of(
      reading.blamed.begin(), reading.blamed.end(), [&](const std::string& blamed_where) {
        return blamed_where.size() >= before.size() + after.size() &&
               blamed_where.compare(0, before.size(), before) == 0 &&
               blamed_where.compare(blamed_where.size() - after.size(), after.size(), after) == 0;
      });
}

void judge(const DriveSpec& spec, const toml::table& tree, Reading& reading) {
  for (Problem& problem : validate(spec)) {
    if (blamed(problem, reading, tree)) continue;
    place_problem(problem, reading, tree);
    reading.add(std::move(problem));
  }
}

void sort_given(DriveSpec& spec, Reading& reading) {
  std::vector<reading::Given*> in_order;
  in_order.reserve(reading.given.size());
  for (reading::Given& given : reading.given) in_order.push_back(&given);
  std::stable_sort(in_order.begin(), in_order.end(),
                   [](const reading::Given* a, const reading::Given* b) {
                     return std::tuple(a->value.line == 0, a->value.line, a->column) <
                            std::tuple(b->value.line == 0, b->value.line, b->column);
                   });
  std::vector<GivenValue> values;
  values.reserve(in_order.size());
  for (reading::Given* given : in_order) values.push_back(std::move(given->value));
  spec.given = std::move(values);
}

}  // namespace

InputError::InputError(std::vector<Problem> problems)
    : std::runtime_error(all_lines(problems)), problems_(std::move(problems)) {}

DriveSpec read_profile(const ProfileText& profile) {
  const std::string_view text = toml_text::without_mark(profile.text);
  const toml_text::Lines lines(text);
  toml::table tree = reading::parsed(text, lines, profile.name);
  if (tree.empty() && profile.settings.empty()) {
    Problem nothing;
    nothing.rule = "nothing in it; start with [belt] and [[pulley]]";
    refuse({nothing}, profile.name);
  }
  Reading reading(profile.name, lines, reading::Kind::profile);
  reading.find_table = profile.find_table;
  for (const Override& setting : profile.settings) {
    for (Problem& problem : reading::apply(setting, tree)) reading.add(std::move(problem));
  }
  Section top(tree, reading);
  DriveSpec spec = reading::read_drive(top);
  reading::read_origins(top, tree);
  top.finish();
  sort_given(spec, reading);
  judge(spec, tree, reading);
  if (!reading.problems.empty()) refuse(std::move(reading.problems), profile.name);
  if (profile.fingerprint == ProfileText::Fingerprint::wanted) {
    spec.fingerprint = reading::fingerprint(tree);
  }
  return with_places(std::move(spec));
}

std::vector<std::string> profile_keys() {
  const toml::table nothing;
  const toml_text::Lines lines("");
  Reading reading("", lines, reading::Kind::profile);
  reading.surveying = true;
  Section top(nothing, reading);
  reading::read_drive(top);
  reading::read_origins(top, nothing);
  std::vector<std::string> keys;
  for (const std::string& key : reading.keys) {
    // A table is no key of its own; a path under [origin] is one, and may be a table as well.
    const std::string below = key + ".";
    const bool table =
        key != "origin.*" &&
        std::any_of(reading.keys.begin(), reading.keys.end(),
                    [&](const auto& other) { return other.compare(0, below.size(), below) == 0; });
    if (!table) keys.push_back(key);
  }
  return keys;
}

}  // namespace twoturn
