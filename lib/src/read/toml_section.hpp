#pragma once

#include <toml++/toml.h>

#include <map>
#include <optional>
#include <set>
#include <string>
#include <string_view>
#include <vector>

#include "toml_text.hpp"
#include "twoturn/base/problem.hpp"
#include "twoturn/drive/choice_words.hpp"
#include "twoturn/drive/spec.hpp"
#include "twoturn/read/profile.hpp"

namespace twoturn::reading {

/// What one unit of a key is worth in the unit that the spec holds.
struct Unit {
  std::string_view name;  ///< behind the number in print, "" where there is none
  double factor = 1.0;
};

/// By the key's ending: _mm, _in, _thou, _deg, _n, _nm, _lbf_ft, _percent. Array places
/// ("[0]") do not matter.
Unit unit_of(std::string_view key);

/// The same key with its length in mm: "pulley.cam.diameter_in" -> "pulley.cam.diameter_mm".
std::string under_mm(std::string_view key);

/// A value of the file. `path` names its tables by name where they have one, `where` always by
/// number, so that it is unique; both are as written but for `where`, which is under mm.
struct Entry {
  const toml::node* node = nullptr;
  std::string path;
  std::string where;

  Entry element(std::size_t index) const;
};

struct Place {
  std::string file;
  int line = 0;
  int column = 0;
};

/// A given number with what only the reader knows of it.
struct Given {
  GivenValue value;
  std::string where;
  int column = 0;
};

/// Whose keys are read. A key that a profile has in another table is told its home.
enum class Kind { profile, readings };

/// All that one reading gathers: problems, given numbers, places, and the keys asked for.
class Reading {
 public:
  Reading(std::string file, const toml_text::Lines& lines, Kind kind)
      : keys_of(kind), file_(std::move(file)), lines_(lines) {}

  void blame(const Entry& entry, std::string rule, std::string nearest = "");
  void add(Problem problem) { problems.push_back(std::move(problem)); }
  bool full() const { return problems.size() >= kEnough; }

  std::optional<double> number(const Entry& entry);  ///< noted as given
  std::optional<double> value(const Entry& entry);   ///< the same, not noted
  std::optional<double> clock(const Entry& entry);
  std::optional<int> count(const Entry& entry);
  /// The entry's number as a whole one, or the entry blamed.
  std::optional<int> whole(const Entry& entry, double value);
  std::optional<std::string> text(const Entry& entry);
  std::optional<bool> yes_no(const Entry& entry);
  std::optional<Vec2> position(const Entry& entry);

  void note(const Entry& entry, double number);
  Place place(const toml::source_region& region) const;
  std::string written(const toml::node& node) const;

  Kind keys_of;
  std::vector<Problem> problems;
  std::vector<Given> given;
  /// Every value and table read, by `where`; of one that was asked for again, again.
  std::vector<std::pair<std::string, const toml::node*>> nodes;
  std::set<std::string> blamed;   ///< `where` of what a problem has been made of
  std::vector<std::string> keys;  ///< every key asked for, in general form, once
  FindTable find_table;           ///< empty: nobody has any
  bool surveying = false;         ///< only to learn the keys: every table is there, empty

  void know(const std::string& pattern);
  /// A table file, asked for once; nullptr where nobody has any.
  const TableText* table(const std::string& name);

 private:
  static constexpr std::size_t kEnough = 400;

  std::string file_;
  const toml_text::Lines& lines_;
  std::set<std::string> known_;
  std::map<std::string, TableText> tables_;
};

/// One table of the profile. Every key asked for is remembered; `finish` calls out the others.
class Section {
 public:
  Section(const toml::table& table, Reading& reading) : table_(&table), reading_(&reading) {}

  std::optional<double> number(std::string_view key);
  std::optional<double> length(std::string_view stem);  ///< of stem_mm, stem_in or stem_thou
  std::optional<double> torque(std::string_view stem);  ///< Nm, of stem_nm or stem_lbf_ft
  std::optional<Vec2> position(std::string_view stem);
  std::vector<Vec2> positions(std::string_view stem);
  std::vector<double> numbers(std::string_view key);  ///< a list; empty where any is none
  std::vector<int> counts(std::string_view key);
  std::optional<std::pair<int, int>> two_counts(std::string_view key);
  std::optional<double> clock(std::string_view key);
  std::optional<int> count(std::string_view key);
  std::optional<std::string> text(std::string_view key);
  std::optional<bool> yes_no(std::string_view key);
  template <class Choice>
  std::optional<Choice> choice(std::string_view key);

  std::optional<Section> table(std::string_view key);
  std::vector<Section> tables(std::string_view key, std::size_t most = 200);
  /// A table whose keys are names given by people, as entries of it.
  std::vector<std::pair<std::string, Entry>> by_name(std::string_view key);
  /// The same for a length's key; one value that is no table stands under the name "".
  std::vector<std::pair<std::string, Entry>> lengths_by_name(std::string_view stem);
  Section named_table(const std::pair<std::string, Entry>& entry, std::string_view key);

  std::optional<Entry> find(std::string_view key);
  std::optional<Entry> find_length(std::string_view stem);
  bool has(std::string_view key) const { return table_->contains(key); }
  void finish();

  Reading& reading() { return *reading_; }
  Entry self() const { return {table_, path_, where_}; }
  const std::string& path() const { return path_; }
  const std::string& where() const { return where_; }

 private:
  Section(const toml::table& table, std::string path, std::string where, std::string pattern,
          Reading& reading);
  Entry entry(std::string_view key, const toml::node& node) const;
  void blame_unknown(const toml::key& key, const toml::node& node);
  std::string nearest_key(std::string_view key) const;
  template <class Value, class Read>
  std::vector<Value> list_of(std::string_view key, const Read& read);
  std::vector<std::pair<std::string, Entry>> entries_of(const Entry& table, std::string_view key);

  const toml::table* table_;
  Reading* reading_;
  std::string path_;
  std::string where_;
  std::string pattern_;
  std::vector<std::string> asked_;
};

/// "a, b or c", each in quotes.
std::string listed(const std::vector<std::string>& words);

/// The word that begins like the one said, else the nearest: "crank" -> "crankshaft".
std::string nearest_choice(std::string_view said, const std::vector<std::string>& words);

/// The choice whose word stands there, or the entry blamed.
template <class Choice>
std::optional<Choice> choice_of(Reading& reading, const Entry& entry) {
  const std::optional<std::string> said = reading.text(entry);
  if (!said) return std::nullopt;
  const std::optional<Choice> chosen = from_word<Choice>(*said);
  if (!chosen) {
    const std::vector<std::string>& words = words_of<Choice>();
    reading.blame(entry, "must be " + listed(words), nearest_choice(*said, words));
  }
  return chosen;
}

template <class Choice>
std::optional<Choice> Section::choice(std::string_view key) {
  const std::optional<Entry> found = find(key);
  return found ? choice_of<Choice>(*reading_, *found) : std::nullopt;
}

}  // namespace twoturn::reading
