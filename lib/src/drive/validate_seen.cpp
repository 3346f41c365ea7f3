#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <set>

#include "twoturn/drive/choice_words.hpp"
#include "twoturn/drive/drive.hpp"
#include "validate_parts.hpp"

namespace twoturn::validation {
namespace {

constexpr double kFarthestMarkMm = 1000.0;  // half a turn of a flywheel 600 mm across, and more
constexpr double kFarthestCrankDeg = 720.0;
constexpr double kWorstEyeMm = 50.0;
constexpr double kMostWeight = 1000.0;

// An auxiliary shaft or one without a role may yet turn out to be timed.
template <class Part>
bool may_be_timed(const Part& part) {
  return turns_per_crank(part) || !part.role || part.role == Role::auxiliary_shaft;
}

bool carries_time(const PulleySpec& pulley) {
  const bool smooth = pulley.diameter_mm && !pulley.teeth;
  return !pulley.tensioner && !smooth && may_be_timed(pulley);
}

// What a person may have looked at: timed shafts, and further marks on them.
struct SeenNames {
  explicit SeenNames(const DriveSpec& drive) : spec(drive) {
    for (const PulleySpec& pulley : spec.pulleys) {
      if (!carries_time(pulley)) continue;
      shafts.push_back(pulley.name);
      for (const MarkSpec& mark : pulley.marks) marks.push_back(mark.name);
    }
    for (const GearedSpec& geared : spec.geared) {
      if (may_be_timed(geared)) shafts.push_back(geared.name);
    }
  }

  // A part without a name has its own problem; what was meant by one cannot be said then.
  bool unsure() const {
    const auto nameless = [](const auto& part) { return part.name.empty(); };
    return spec.pulleys.empty() ||
           std::any_of(spec.pulleys.begin(), spec.pulleys.end(), nameless) ||
           std::any_of(spec.geared.begin(), spec.geared.end(), nameless);
  }

  bool is_part(const std::string& name) const {
    const auto called = [&](const auto& part) { return part.name == name; };
    return std::any_of(spec.pulleys.begin(), spec.pulleys.end(), called) ||
           std::any_of(spec.geared.begin(), spec.geared.end(), called);
  }

  const DriveSpec& spec;
  std::vector<std::string> shafts;
  std::vector<std::string> marks;
};

// A name and where it stands.
struct SeenName {
  std::string path;
  std::string value;  ///< in print
  std::string name;
};

const PulleySpec* seen_pulley(const DriveSpec& spec, const std::string& name) {
  const auto found = std::find_if(spec.pulleys.begin(), spec.pulleys.end(),
                                  [&](const PulleySpec& pulley) { return pulley.name == name; });
  return found == spec.pulleys.end() ? nullptr : &*found;
}

std::ptrdiff_t times_in(const std::vector<std::string>& names, const std::string& name) {
  return std::count(names.begin(), names.end(), name);
}

void judge_not_timed(Judge& judge, const SeenNames& names, const SeenName& said,
                     const std::vector<std::string>& known, const char* unknown) {
  if (names.is_part(said.name)) {
    judge.add(said.path, said.value,
              fmt::format("{} is no timed shaft: nothing on it shows the timing", said.name),
              nearest_word(said.name, known));
  } else {
    judge.add(said.path, said.value, fmt::format("{} \"{}\"", unknown, said.name),
              nearest_word(said.name, known));
  }
}

void judge_seen_shaft(Judge& judge, const SeenNames& names, const SeenName& said) {
  if (times_in(names.shafts, said.name) > 0 || names.unsure()) return;
  judge_not_timed(judge, names, said, names.shafts, "no timed shaft is named");
}

void judge_seen_mark(Judge& judge, const SeenNames& names, const SeenName& said) {
  if (names.unsure()) return;
  const std::ptrdiff_t shafts = times_in(names.shafts, said.name);
  const std::ptrdiff_t marks = times_in(names.marks, said.name);
  if (shafts + marks == 1 || shafts > 1) return;  // two of one name have their own problem
  if (shafts + marks > 1) {
    judge.add(said.path, said.value,
              fmt::format("more than one mark goes by \"{}\"; give the [[pulley.mark]] a name of "
                          "its own",
                          said.name));
    return;
  }
  std::vector<std::string> known = names.shafts;
  known.insert(known.end(), names.marks.begin(), names.marks.end());
  judge_not_timed(judge, names, said, known, "no timed shaft and no [[pulley.mark]] is named");
}

void judge_seen_pins(Judge& judge, const SeenNames& names) {
  for (const auto& [name, pin] : judge.spec.seen.pin) {
    judge_seen_shaft(judge, names,
                     {fmt::format("seen.pin.{}", name), fmt::format("\"{}\"", word(pin)), name});
  }
}

struct MarksIn {
  const char* key;
  const char* unit;
  double farthest;
  const std::map<std::string, double>& marks;
};

// Belt teeth are those of the pulley that the mark turns with.
void judge_mark_teeth(Judge& judge, const SeenName& said, double teeth) {
  const auto& geared = judge.spec.geared;
  if (std::any_of(geared.begin(), geared.end(),
                  [&](const GearedSpec& shaft) { return shaft.name == said.name; })) {
    judge.add(said.path, said.value,
              fmt::format("the belt does not run on {}, which is geared: give mark_mm or "
                          "mark_crank_deg",
                          said.name));
    return;
  }
  for (const PulleySpec& pulley : judge.spec.pulleys) {
    const bool own = pulley.name == said.name;
    const bool further = std::any_of(pulley.marks.begin(), pulley.marks.end(),
                                     [&](const MarkSpec& mark) { return mark.name == said.name; });
    if ((own || further) && carries_time(pulley)) {
      judge_teeth_of(judge, said.path, said.value, pulley, teeth);
    }
  }
}

void judge_seen_marks(Judge& judge, const SeenNames& names) {
  const SeenSpec& seen = judge.spec.seen;
  const MarksIn all[] = {{"mark_mm", "mm", kFarthestMarkMm, seen.mark_mm},
                         {"mark_teeth", "", 1000.0, seen.mark_teeth},
                         {"mark_crank_deg", "deg", kFarthestCrankDeg, seen.mark_crank_deg}};
  std::map<std::string, const char*> taken;
  for (const MarksIn& in : all) {
    for (const auto& [name, out] : in.marks) {
      const SeenName said{fmt::format("seen.{}.{}", in.key, name), shown(out, in.unit), name};
      judge_seen_mark(judge, names, said);
      judge.range(said.path, out, {-in.farthest, in.farthest, in.unit});
      if (&in.marks == &seen.mark_teeth) judge_mark_teeth(judge, said, out);
      const auto [first, is_new] = taken.emplace(name, in.key);
      if (is_new) continue;
      judge.add(said.path, said.value,
                fmt::format("the same mark is given by seen.{}.{} as well; keep one", first->second,
                            name));
    }
  }
}

void judge_count_end(Judge& judge, const SeenNames& names, const SeenName& said) {
  if (said.name.empty()) {
    judge.add(said.path, "", "must name the shaft at whose mark the counting began or ended");
    return;
  }
  judge_seen_shaft(judge, names, said);
  if (times_in(names.shafts, said.name) == 0) return;
  const PulleySpec* pulley = seen_pulley(judge.spec, said.name);
  if (pulley == nullptr) {
    judge.add(said.path, said.value,
              fmt::format("the belt does not run on {}, which is geared: count between pulleys",
                          said.name));
  } else if (!pulley->mark_deg) {
    judge.add(said.path, said.value,
              fmt::format("{} has no mark to count from: give its mark_deg", said.name));
  }
}

void judge_counts(Judge& judge, const SeenNames& names) {
  const int most = std::max(1, judge.spec.belt.teeth.value_or(10000) - 1);
  std::map<std::pair<std::string, std::string>, std::size_t> taken;
  for (std::size_t i = 0; i < judge.spec.seen.count.size(); ++i) {
    const TeethCounted& count = judge.spec.seen.count[i];
    const std::string path = fmt::format("seen.count.{}", i + 1);
    const std::string to = fmt::format("\"{}\"", count.to);
    judge_count_end(judge, names, {path + ".from", fmt::format("\"{}\"", count.from), count.from});
    judge_count_end(judge, names, {path + ".to", to, count.to});
    judge.count({path, ".teeth"}, count.teeth, 1, most);
    if (!count.teeth) {
      judge.add(path + ".teeth", "",
                "is missing: how many belt teeth lie from one mark to the "
                "other, the way without the tensioner");
    }
    if (count.from.empty() || count.to.empty()) continue;
    if (count.from == count.to) {
      judge.add(path + ".to", to, "is where the counting began; name another shaft");
      continue;
    }
    const auto [first, is_new] = taken.emplace(std::minmax(count.from, count.to), i + 1);
    if (is_new) continue;
    judge.add(
        path + ".to", to,
        fmt::format("seen.count.{} counts between these two already; keep one", first->second));
  }
}

void judge_pointer(Judge& judge) {
  const SeenSpec& seen = judge.spec.seen;
  judge.clock("seen.pointer_deg", seen.pointer_deg);
  judge.range("seen.pointer_mm", seen.pointer_mm, {0.0, kFarthestMm, "mm"});
  const TensionerSpec* tensioner = tensioner_of(judge.spec);
  const bool slide = tensioner && std::holds_alternative<SlideSpec>(tensioner->path);
  if (seen.pointer_deg && (tensioner == nullptr || slide)) {
    judge.add("seen.pointer_deg", shown(*seen.pointer_deg, "deg"),
              slide ? "belongs to a tensioner that swings; of a slide give pointer_mm, from the "
                      "slack end"
                    : "no pulley has a tensioner's path, so there is no pointer to see");
  }
  if (seen.pointer_mm && !slide) {
    judge.add("seen.pointer_mm", shown(*seen.pointer_mm, "mm"),
              tensioner ? "belongs to a slide; of a tensioner that swings give pointer_deg"
                        : "no pulley has a tensioner's path, so nothing slides");
  }
}

void judge_turning(Judge& judge) {
  const SeenSpec& seen = judge.spec.seen;
  const std::set<int> kWholeRounds{0, 1, 2, 4};
  if (seen.after_turns && kWholeRounds.count(*seen.after_turns) == 0) {
    judge.add("seen.after_turns", std::to_string(*seen.after_turns),
              "must be 0, 1, 2 or 4 turns of the crank");
  }
  judge.range("seen.stop_deg", seen.stop_deg, {0.0, kFarthestCrankDeg, "deg"});
  if (seen.stop_deg && seen.stops == false) {
    judge.add("seen.stop_deg", shown(*seen.stop_deg, "deg"),
              "says where the crank stopped dead, yet stops = false; keep one of the two");
  }
}

void judge_priors(Judge& judge) {
  const std::map<std::string, double>& prior = judge.spec.seen.prior;
  const std::vector<std::string>& codes = words_of<FaultKind>();
  std::size_t ruled_out = 0;
  for (const auto& [code, weight] : prior) {
    const std::string path = fmt::format("seen.prior.{}", code);
    const bool known = times_in(codes, code) > 0;
    if (!known) {
      judge.add(path, shown(weight), fmt::format("no fault goes by the code \"{}\"", code),
                nearest_word(code, codes));
    }
    judge.range(path, weight, {0.0, kMostWeight});
    if (known && weight == 0.0) ++ruled_out;
  }
  if (ruled_out == codes.size()) {
    judge.add("seen.prior", "", "rules out every fault that there is; leave one above 0");
  }
}

}  // namespace

void judge_seen(Judge& judge) {
  if (judge.spec.seen == SeenSpec{}) return;
  const SeenNames names(judge.spec);
  judge_seen_pins(judge, names);
  judge_seen_marks(judge, names);
  judge.positive("seen.give_mm", judge.spec.seen.give_mm, kWorstEyeMm, "mm");
  judge_counts(judge, names);
  judge_pointer(judge);
  judge_turning(judge);
  judge_priors(judge);
}

}  // namespace twoturn::validation
