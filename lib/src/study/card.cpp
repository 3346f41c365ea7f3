#include "twoturn/study/card.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <set>

#include "base/at.hpp"
#include "card_tree.hpp"
#include "sheet_parts.hpp"
#include "twoturn/base/names.hpp"
#include "twoturn/base/numbers.hpp"
#include "twoturn/base/utf8.hpp"
#include "twoturn/drive/choice_words.hpp"
#include "twoturn/study/cautions.hpp"
#include "why_parts.hpp"
#include "words/keep_units.hpp"
#include "words/sentences.hpp"

namespace twoturn {
namespace study {
namespace {

// A fault as the card speaks of it: without its place where the bench shows that.
FaultCase without_place(FaultCase suspect) {
  Fault& fault = suspect.faults.front();
  const Remedy remedy = remedy_of(fault);
  if (remedy == Remedy::seat_belt) fault.about = "pulley";
  if (remedy == Remedy::right_pin) fault.about = "shaft";
  return suspect;
}

class CardMaker {
 public:
  explicit CardMaker(const FaultBase& base) : base_(base) {}

  CardAnswer make(const Heading& heading) {
    answer_.heading = heading;
    answer_.direction = base_.turns->assembly.fitted.direction;
    answer_.layout = base_.layout;
    answer_.layout.has_engine = base_.spec.engine.cylinders.has_value();
    gather();
    card::Ground ground{answer_.layout, right_, looks_of(answer_.layout)};
    std::vector<card::Sample> samples = card::samples_of(ground, lineups_, ends_of_);
    std::vector<card::Node> tree;
    tell_ends();
    const std::vector<int> lines = lines_of_ends();
    // What its own looks cannot tell apart need not be told apart: again with those alone.
    for (std::size_t before = 0; before != ground.looks.size();) {
      before = ground.looks.size();
      card::find_alike(ground, lineups_, ends_of_, samples);
      tree = card::tree_of(ground, samples, lines);
      keep_asked(tree, ground.looks);
    }
    tell_looks(tree, static_cast<double>(samples.size()));
    tell_alike(tree);
    tell_trust();
    answer_.cautions = cautions();
    make_printable();
    return std::move(answer_);
  }

 private:
  // As every page: a profile's texts may hold what no page can show.
  void make_printable() {
    const auto change = [](SheetLine& line) {
      line.text = sentences::keep_units(printable(line.text));
    };
    for (CardLook& look : answer_.looks) {
      change(look.asks);
      for (CardBranch& branch : look.branches) change(branch.seen);
    }
    for (CardEnd& end : answer_.ends) {
      change(end.title);
      change(end.remedy);
    }
    for (SheetLine& line : answer_.trust) change(line);
    answer_.heading.profile = printable(answer_.heading.profile);
  }

  // Single faults; two together are for `twoturn why`.
  void gather() {
    std::vector<FaultCase> single;
    for (FaultCase& suspect : suspects_of(base_)) {
      if (suspect.faults.size() == 1) single.push_back(std::move(suspect));
    }
    right_ = *simulate(base_, single.front(), 0.0).bench;  // nothing is wrong
    lineups_ = lineups_of(base_, single);
    for (Lineup& lineup : lineups_) {
      const std::string key = card_key(lineup.suspect);
      const auto known = std::find(keys_.begin(), keys_.end(), key);
      ends_of_.push_back(static_cast<int>(known - keys_.begin()));
      if (known == keys_.end()) keys_.push_back(key);
      // Whether a fault brings valve and piston together is nothing to find out by turning: a stop
      // leads here to what is in the way, and to backing off, whatever else is wrong.
      const bool stops = lineup.suspect.first().kind == FaultKind::tool_in_hole;
      for (Bench& bench : lineup.benches) {
        bench.stops_deg = stops ? std::vector<double>{0.0} : std::vector<double>{};
      }
    }
  }

  const std::string& shaft(int part) const { return answer_.layout.shafts[at(part)].name; }

  std::string pointer_place() const {
    return answer_.layout.tensioner == TensionerKind::slide ? "mm" : "deg";
  }

  SheetLine asks(const CardLook& look) const {
    SheetLine line = sheet::note("");
    switch (look.ask) {
      case CardAsk::pins:
        line.text = "Pins after two turns: which do not go in freely?";
        break;
      case CardAsk::marks:
        line.text = fmt::format("Marks after two turns: which are off by more than {} mm?",
                                sheet::put(line, "off_by_mm", look.more_than_mm, 1));
        break;
      case CardAsk::pointer:
        line.text = fmt::format("How far off is {}?",
                                sentences::look_at(answer_.layout, LookKind::pointer, 0));
        if (answer_.layout.tensioner == TensionerKind::swing) {
          line.text += " Its place is " + sheet::put_clock(line, "belongs_deg", look.belongs) + '.';
        } else {
          line.text +=
              fmt::format(" Its place is {} mm.", sheet::put(line, "belongs_mm", look.belongs, 1));
        }
        break;
      case CardAsk::mark:
        line.text = capital(sentences::look_at(answer_.layout, LookKind::mark, look.part)) + ':';
        break;
      case CardAsk::further_mark:
        line.text =
            capital(sentences::look_at(answer_.layout, LookKind::further_mark, look.part)) + ':';
        break;
      case CardAsk::again:
        line.text = "Two turns more: are the marks further out?";
        break;
      case CardAsk::count:
        line.text = "Count " + sentences::look_at(answer_.layout, LookKind::count, look.part) + ':';
        break;
      case CardAsk::signs:
        line.text = "What else shows?";
        break;
    }
    return line;
  }

  // Early and late, or clockwise and back, or more and less.
  std::string side(const CardLook& look, double value) const {
    if (look.ask == CardAsk::pointer) {
      if (answer_.layout.tensioner == TensionerKind::slide) return value < 0 ? "short" : "past";
      return value < 0 ? "anticlockwise" : "clockwise";
    }
    return std::string(sentences::early_or_late(value, answer_.direction));
  }

  std::string nought(const CardLook& look) const {
    return look.ask == CardAsk::pointer ? "in its place" : side(look, 0.0);
  }

  std::string unit(const CardLook& look) const {
    switch (look.ask) {
      case CardAsk::mark:
        return answer_.layout.shafts[at(look.part)].mark_radius_mm ? "mm" : "deg";
      case CardAsk::further_mark:
        return answer_.layout.further[at(look.part)].radius_mm ? "mm" : "deg";
      case CardAsk::pointer:
        return pointer_place();
      default:
        return "teeth";
    }
  }

  std::string bound(const CardLook& look, const char* key, double value, SheetLine& line) const {
    const std::string name = unit(look);
    const std::string number = sheet::put(line, std::string(key) + '_' + name, std::abs(value), 1);
    return number + ' ' + name;
  }

  SheetLine within(const CardLook& look, const CardBranch& branch) const {
    SheetLine line = sheet::note("");
    if (look.ask == CardAsk::count) {
      const auto whole = [&](const char* key, double value) {
        return sheet::put_count(line, std::string(key) + "_teeth", std::lround(value));
      };
      if (!branch.above) line.text = whole("up_to", std::floor(*branch.up_to)) + " or fewer";
      if (!branch.up_to) line.text = whole("from", std::floor(*branch.above) + 1.0) + " or more";
      if (branch.above && branch.up_to) {
        const std::string from = whole("from", std::floor(*branch.above) + 1.0);
        const std::string to = whole("up_to", std::floor(*branch.up_to));
        line.text = from == to ? from : from + " to " + to;
      }
      return line;
    }
    line.text = between(look, branch, line);
    return line;
  }

  // A reading that stands right is of the lower part.
  std::string between(const CardLook& look, const CardBranch& branch, SheetLine& line) const {
    const auto sided = [&](const char* key, double value) {
      return bound(look, key, value, line) + ' ' + side(look, value);
    };
    const double above = branch.above.value_or(-1.0);
    const double up_to = branch.up_to.value_or(1.0);
    if (branch.above && above == 0.0) {
      return branch.up_to ? "up to " + sided("up_to", up_to) : side(look, 1.0);
    }
    if (branch.up_to && up_to == 0.0) {
      const std::string right = nought(look) + ", or ";
      return branch.above ? right + "up to " + sided("above", above) : right + side(look, -1.0);
    }
    if (branch.above && branch.up_to) {
      const std::string from = above * up_to > 0.0
                                   ? sheet::put(line, "above_" + unit(look), std::abs(above), 1)
                                   : sided("above", above);
      return from + " to " + sided("up_to", up_to);
    }
    if (branch.above) {
      return above < 0.0 ? "less than " + sided("above", above) + ", or " + side(look, 1.0)
                         : "more than " + sided("above", above);
    }
    if (!branch.up_to) return "whatever it shows";
    return up_to > 0.0 ? "less than " + sided("up_to", up_to) + ", or " + side(look, -1.0)
                       : "more than " + sided("up_to", up_to);
  }

  std::string sign(LookKind kind) const {
    if (kind == LookKind::stop) return "it stops dead";
    for (const Lineup& lineup : lineups_) {
      const FaultCase suspect = without_place(lineup.suspect);
      const Bench& bench = lineup.benches.front();
      Look look{kind};
      const bool differs = bench_shows(answer_.layout, bench, look, 0).yes !=
                           bench_shows(answer_.layout, right_, look, 0).yes;
      const std::vector<std::string> told = sentences::signs(suspect, bench);
      if (differs && !told.empty()) return told.front();
    }
    return sentences::look_at(answer_.layout, kind, 0);
  }

  SheetLine seen(const CardLook& look, const CardBranch& branch) const {
    const bool pins = look.ask == CardAsk::pins;
    switch (branch.when) {
      case CardBranch::When::none:
        return sheet::note(look.ask == CardAsk::signs ? "nothing" : pins ? "all go in" : "none");
      case CardBranch::When::all:
        return sheet::note(pins ? "none goes in" : "all");
      case CardBranch::When::only:
        return sheet::note("only that of " + the(shaft(branch.part)));
      case CardBranch::When::several:
        return sheet::note("several, not all");
      case CardBranch::When::yes:
        return sheet::note("yes");
      case CardBranch::When::no:
        return sheet::note("no");
      case CardBranch::When::sign:
        return sheet::note(sign(*branch.sign));
      case CardBranch::When::within:
        return within(look, branch);
    }
    return sheet::note("");
  }

  static void tell_answer(const card::Question& question, int answer, CardBranch& branch) {
    using When = CardBranch::When;
    switch (question.ask) {
      case CardAsk::pins:
      case CardAsk::marks:
        branch.when = answer == card::kNone      ? When::none
                      : answer == card::kAll     ? When::all
                      : answer == card::kSeveral ? When::several
                                                 : When::only;
        if (branch.when == When::only) branch.part = answer - card::kOnly;
        return;
      case CardAsk::again:
        branch.when = answer == 1 ? When::yes : When::no;
        return;
      case CardAsk::signs:
        branch.when = answer == 0 ? When::none : When::sign;
        if (answer > 0) branch.sign = static_cast<LookKind>(answer - 1);
        return;
      default:
        branch.when = When::within;
        if (answer > 0) branch.above = question.cuts[at(answer) - 1];
        if (at(answer) < question.cuts.size()) branch.up_to = question.cuts[at(answer)];
    }
  }

  // An end is named where at least half of what comes there is put right by it.
  void tell_looks(const std::vector<card::Node>& tree, double all) {
    constexpr double kHalf = 0.5;
    for (const card::Node& node : tree) {
      CardLook look;
      look.ask = node.question.ask;
      look.part = node.question.part;
      look.more_than_mm = node.question.more_than_mm;
      if (look.ask == CardAsk::pointer) look.belongs = right_.pointer.value_or(0.0);
      look.asks = asks(look);
      for (const card::Branch& from : node.branches) {
        CardBranch branch;
        tell_answer(node.question, from.answer, branch);
        branch.seen = seen(look, branch);
        branch.next = from.next;
        branch.faults = static_cast<double>(from.samples.size()) / all;
        if (from.next < 0) {
          branch.right_in =
              static_cast<double>(from.right()) / static_cast<double>(from.samples.size());
          if (branch.right_in >= kHalf) {
            branch.end = from.end;
            branch.may_be = from.may_be();
          }
          if (branch.end < 0) branch.right_in = 0.0;
          answer_.reached += branch.faults * branch.right_in;
        }
        look.branches.push_back(std::move(branch));
      }
      answer_.looks.push_back(std::move(look));
    }
  }

  void tell_ends() {
    const sentences::FaultGround ground = ground_of(base_);
    for (std::size_t end = 0; end < keys_.size(); ++end) {
      CardEnd told;
      told.key = keys_[end];
      for (std::size_t i = 0; i < lineups_.size(); ++i) {
        if (ends_of_[i] != static_cast<int>(end)) continue;
        const FaultCase suspect = without_place(lineups_[i].suspect);
        const std::string kind(word(suspect.first().kind));
        if (std::find(told.kinds.begin(), told.kinds.end(), kind) == told.kinds.end()) {
          told.kinds.push_back(kind);
        }
        const SizeRange* range = suspect.size();
        const double size = range ? range->typical : 0.0;
        if (!told.title.text.empty()) continue;
        const FaultyBuild build = simulate(base_, lineups_[i].suspect, size);
        const TurnsAnswer* turns = build.turns ? &*build.turns : nullptr;
        told.title = sheet::note(sentences::title(ground, suspect, size));
        const std::string all = sentences::class_remedy(answer_.layout, remedy_of(suspect.first()));
        told.remedy = sheet::note(all.empty() ? sentences::remedy(ground, suspect, turns) : all);
      }
      answer_.ends.push_back(std::move(told));
    }
  }

  // On paper, as wide as its column there.
  std::vector<int> lines_of_ends() const {
    constexpr std::size_t kLetters = 48;
    std::vector<int> lines;
    for (const CardEnd& end : answer_.ends) {
      lines.push_back(static_cast<int>(1 + end.remedy.text.size() / kLetters));
    }
    return lines;
  }

  static void keep_asked(const std::vector<card::Node>& tree, std::vector<Look>& looks) {
    const auto asked = [&](const Look& look) {
      return std::any_of(tree.begin(), tree.end(), [&](const card::Node& node) {
        CardLook own;
        own.ask = node.question.ask;
        own.part = node.question.part;
        return card_asks(own, look);
      });
    };
    looks.erase(
        std::remove_if(looks.begin(), looks.end(), [&](const Look& look) { return !asked(look); }),
        looks.end());
  }

  void tell_alike(const std::vector<card::Node>& tree) {
    std::set<std::pair<int, int>> pairs;
    for (const card::Node& node : tree) {
      for (const card::Branch& branch : node.branches) {
        if (branch.next >= 0) continue;
        for (const card::Sample* sample : branch.samples) {
          const std::vector<int>& ends = sample->ends;
          const bool right = std::find(ends.begin(), ends.end(), branch.end) != ends.end();
          if (right && sample->end != branch.end) pairs.insert({branch.end, sample->end});
        }
      }
    }
    for (const auto& [end, other] : pairs) answer_.ends[at(end)].alike.push_back(other);
  }

  // Pins hold the shafts themselves; a mark sits on what may have moved.
  void tell_trust() {
    std::vector<SheetLine>& trust = answer_.trust;
    const bool pins =
        std::any_of(answer_.layout.shafts.begin(), answer_.layout.shafts.end(),
                    [](const BenchPart& part) { return part.pin_radius_mm.has_value(); });
    if (pins) trust.push_back(sheet::note("a pin that goes in freely: it holds the shaft itself"));
    const bool cams =
        std::any_of(answer_.layout.shafts.begin(), answer_.layout.shafts.end(),
                    [](const BenchPart& part) { return part.role == Role::camshaft; });
    if (cams) {
      trust.push_back(
          sheet::note("the cam's lobes: they sit on the shaft, whatever its pulley does"));
    }
    trust.push_back(sheet::note("the inner marks on toothed pulleys, looked at square on"));
    std::string outer;
    for (const FurtherMark& mark : answer_.layout.further) {
      outer += (outer.empty() ? "" : ", ") + the(mark.name);
    }
    trust.push_back(sheet::note("last a mark on a damper or any outer ring" +
                                (outer.empty() ? "" : " (" + outer + ")") + ": it may have moved"));
  }

  std::vector<std::string> cautions() const {
    return {
        "Turn by hand at the crank only, forwards. At a solid stop: stop, back off, find out.",
        "Look twice before anything is moved. With the belt off turn no shaft but the one that is "
        "off, and that only with the crank parked clear of the valves. After every change: "
        "tension, two turns by hand, look again.",
        "The maker's manual, local rules and a qualified mechanic come before this card. It is "
        "made on paper; the fitting itself has not been seen."};
  }

  const FaultBase& base_;
  Bench right_;
  std::vector<Lineup> lineups_;
  std::vector<int> ends_of_;  // by lineup
  std::vector<std::string> keys_;
  CardAnswer answer_;
};

}  // namespace
}  // namespace study

std::string card_key(const FaultCase& suspect) {
  return std::to_string(static_cast<int>(remedy_of(suspect.first())));
}

bool card_asks(const CardLook& look, const Look& of) {
  switch (look.ask) {
    case CardAsk::pins:
      return of.kind == LookKind::pin;
    case CardAsk::marks:
      return of.kind == LookKind::mark;
    case CardAsk::mark:
      return of.kind == LookKind::mark && of.part == look.part;
    case CardAsk::further_mark:
      return of.kind == LookKind::further_mark && of.part == look.part;
    case CardAsk::again:
      return of.kind == LookKind::again;
    case CardAsk::pointer:
      return of.kind == LookKind::pointer;
    case CardAsk::count:
      return of.kind == LookKind::count && of.part == look.part;
    case CardAsk::signs:
      return of.kind >= LookKind::seated;
  }
  return false;
}

std::optional<CardAnswer> card_of(const DriveSpec& spec, const Heading& heading,
                                  std::vector<Missing>& missing) {
  FaultBase base = fault_base(spec, heading.fit);
  if (!base.turns) {
    missing.insert(missing.end(), base.book.missing.begin(), base.book.missing.end());
    return std::nullopt;
  }
  return study::CardMaker(base).make(heading);
}

}  // namespace twoturn
