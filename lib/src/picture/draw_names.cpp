// Names, numbers and counts of a picture of the belt end.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "base/at.hpp"
#include "draw_parts.hpp"
#include "twoturn/base/numbers.hpp"
#include "twoturn/geometry/segment.hpp"
#include "words/sentences.hpp"

namespace twoturn::draw {

using namespace scene;

namespace {

class Namer {
 public:
  Namer(const BeltView& view, const Placing& placing, LabelPlacer& placer, Said said, Naming naming)
      : view_(view), placing_(placing), placer_(placer), said_(said), naming_(naming) {}

  Labels put_all() {
    for (const Side side : {Side::tight, Side::slack}) put_arrow(side);
    for (std::size_t i = 0; i < view_.pulleys.size(); ++i) put_number(i);
    if (naming_ == Naming::names) {
      for (std::size_t i = 0; i < view_.pulleys.size(); ++i) put_name(i);
    }
    for (const SeenPin& pin : view_.pins) put_pin(pin);
    if (said_ == Said::all) {
      for (const SeenMark& mark : view_.marks) put_further_mark(mark);
      for (const SeenCount& count : view_.counts) put_count(count);
      for (std::size_t i = 0; i < view_.covers.size(); ++i) put_cover(i);
    }
    for (Item& item : placer_.place(wanted_)) labels_.group.items.push_back(std::move(item));
    labels_.all_named = placer_.all_named(wanted_);
    return std::move(labels_);
  }

 private:
  void put(Wanted wanted) { wanted_.push_back(std::move(wanted)); }

  // In the middle where the mark goes round clear of it; else beside, with a line.
  void put_number(std::size_t i) {
    const SeenPulley& pulley = view_.pulleys[i];
    Wanted wanted;
    wanted.words.lines = {{std::to_string(pulley.fitting_order), Weight::bold}};
    wanted.words.ringed = true;
    wanted.anchor_mm = placing_.point(pulley.centre_mm);
    wanted.names_disc = true;
    const double radius = placing_.length(pulley.outside_radius_mm);
    constexpr double kBeltMm = 1.5;
    wanted.radius_mm = radius + kBeltMm;
    const bool tensioner = view_.tensioner && view_.tensioner->pulley == static_cast<int>(i);
    if (i > 0 && !tensioner) {
      wanted.rather_at_mm = {wanted.anchor_mm};
      constexpr double kOffMm = 5.4;
      for (const double deg : {90.0, 270.0, 0.0, 180.0}) {
        if (kOffMm + 3.0 > 0.86 * radius) break;
        wanted.rather_at_mm.push_back(wanted.anchor_mm + kOffMm * towards(Angle::degrees(deg)));
      }
    }
    wanted.rather_along = placing_.angle(away_from_belt(i));
    put(std::move(wanted));
  }

  void put_name(std::size_t i) {
    const SeenPulley& pulley = view_.pulleys[i];
    Wanted wanted;
    wanted.words.lines = {{pulley.name, Weight::bold}};
    if (said_ == Said::all) wanted.words.lines.push_back({size_words(pulley), Weight::plain});
    const std::string off = off_words(view_, static_cast<int>(i));
    if (!off.empty()) wanted.words.lines.push_back({off, Weight::bold});
    const double radius = placing_.length(pulley.outside_radius_mm);
    wanted.anchor_mm = placing_.point(pulley.centre_mm);
    wanted.names_disc = true;
    constexpr double kBeltMm = 2.5;
    wanted.radius_mm = radius + kBeltMm;
    // Inside where there is room under the teeth, below the number.
    const Vec2 size = wanted.words.size_mm();
    constexpr double kNumberMm = 3.2;
    const double tails = 0.35 * wanted.words.height_mm;
    const double corner = std::hypot(size.x() / 2.0, kNumberMm + size.y() - 2.0 * tails);
    constexpr double kUnderTeeth = 0.86;
    if (i > 0 && corner < kUnderTeeth * radius) {
      wanted.rather_at_mm = {wanted.anchor_mm - Vec2(0.0, kNumberMm + size.y() / 2.0 - tails)};
    }
    wanted.rather_along = placing_.angle(away_from_belt(i));
    put(std::move(wanted));
  }

  // A pulley as other words call it.
  std::string called(int pulley) const {
    const SeenPulley& seen = view_.pulleys[at(pulley)];
    return naming_ == Naming::names ? seen.name : std::to_string(seen.fitting_order);
  }

  // The side of a pulley on which no belt is.
  Angle away_from_belt(std::size_t i) const {
    const SeenPulley& pulley = view_.pulleys[i];
    return pulley.entry + pulley.sense * pulley.wrap / 2.0 + Angle::degrees(180.0);
  }

  // A mark that is not the pulley's own, as on a damper.
  void put_further_mark(const SeenMark& mark) {
    if (mark.name.empty()) return;
    Wanted wanted;
    wanted.words.lines.push_back({too_wide(mark.name) ? "mark" : mark.name});
    const SeenPulley& pulley = view_.pulleys[at(mark.pulley)];
    const Angle direction = placing_.angle(mark.at);
    constexpr double kBeyondMm = 6.5;
    const double radius = placing_.length(std::max(pulley.pitch_radius_mm, mark.radius_mm));
    wanted.anchor_mm = placing_.point(pulley.centre_mm) + (radius + kBeyondMm) * towards(direction);
    wanted.radius_mm = 2.0;
    wanted.rather_along = direction;
    put(std::move(wanted));
  }

  // A pin outside its pulley: nobody would know whose it is.
  void put_pin(const SeenPin& pin) {
    const SeenPulley& pulley = view_.pulleys[at(pin.pulley)];
    if (pin.radius_mm <= pulley.rim_radius_mm) return;
    Wanted wanted;
    wanted.words.lines = {{pin.bar ? "bar" : "pin"}};
    if (said_ == Said::all) wanted.words.lines.front().text += " of " + called(pin.pulley);
    const Group drawn = draw::pin(pin, view_, placing_);
    wanted.anchor_mm = box_of(Item{drawn}).middle_mm();
    wanted.radius_mm = 1.6;
    wanted.rather_along = Angle::degrees(-90.0);
    put(std::move(wanted));
  }

  void put_count(const SeenCount& count) {
    Wanted wanted;
    wanted.words.lines = {{teeth_words(count, count.teeth), Weight::bold}, {"teeth"}};
    wanted.anchor_mm = placing_.point(count.at_mm);
    constexpr double kOffMm = 2.0;
    wanted.radius_mm = kOffMm;
    wanted.rather_along = outwards(count.at_mm);
    wanted.most_away_mm = 16.0;  // the words under the picture have it too
    put(std::move(wanted));
  }

  // Away from the middle of the drive.
  Angle outwards(const Vec2& engine_mm) const {
    Vec2 middle = Vec2::Zero();
    for (const SeenPulley& pulley : view_.pulleys) middle += pulley.centre_mm;
    const Vec2 out = engine_mm - middle / static_cast<double>(view_.pulleys.size());
    return placing_.angle(Angle::radians(std::atan2(out.y(), out.x())));
  }

  // An arrow along the longest run of each side; what it is follows once the names have room.
  void put_arrow(Side side) {
    const SeenRun* longest = nullptr;
    for (const SeenRun& run : view_.runs) {
      if (run.side != side) continue;
      if (!longest || length(run) > length(*longest)) longest = &run;
    }
    if (!longest) return;
    const Vec2 start = placing_.point(longest->start_mm);
    const Vec2 along = (placing_.point(longest->end_mm) - start).normalized();
    const double to_back = view_.teeth_on_left ? -1.0 : 1.0;
    constexpr double kOffMm = 4.4;
    constexpr double kArrowMm = 11.0;
    const Vec2 beside = to_back * kOffMm * Vec2(-along.y(), along.x());
    const double run_mm = placing_.length(length(*longest));
    const double arrow = std::min(kArrowMm, 0.6 * run_mm);
    const Vec2 to_tail = beside - arrow / 2.0 * along;
    double where = 0.33;
    for (const double tried : {0.33, 0.5, 0.6, 0.7, 0.25}) {
      const Vec2 tail = start + tried * run_mm * along + to_tail;
      if (!is_clear(tail, tail + arrow * along)) continue;
      where = tried;
      break;
    }
    const Vec2 middle = start + where * run_mm * along + beside;
    const Vec2 from = middle - arrow / 2.0 * along;
    labels_.group.items.push_back({Line{from, from + arrow * along, Pen::heavy, Arrow::at_end}});
    constexpr int kPieces = 8;
    for (int k = 0; k <= kPieces; ++k) {
      const Vec2 here = from + arrow * k / kPieces * along;
      placer_.keep_clear({here - Vec2::Constant(1.0), here + Vec2::Constant(1.0)});
    }
    if (said_ != Said::all) return;
    Wanted wanted;
    wanted.words.lines = {{side == Side::tight ? "tight side" : "slack side"}};
    wanted.most_away_mm = 4.0;
    wanted.anchor_mm = middle;
    wanted.radius_mm = 1.5;
    wanted.rather_along = Angle::radians(std::atan2(beside.y(), beside.x()));
    put(std::move(wanted));
  }

  // Of all pulleys, by some paper.
  bool is_clear(const Vec2& from, const Vec2& to) const {
    constexpr double kApartMm = 1.5;
    return std::none_of(view_.pulleys.begin(), view_.pulleys.end(), [&](const SeenPulley& pulley) {
      const Vec2 centre = placing_.point(pulley.centre_mm);
      return (nearest_on({from, to}, centre) - centre).norm() <
             placing_.length(pulley.outside_radius_mm) + kApartMm;
    });
  }

  static double length(const SeenRun& run) { return (run.end_mm - run.start_mm).norm(); }

  void put_cover(std::size_t i) {
    const CoverSpec& cover = view_.covers[i];
    if (cover.points_mm.empty()) return;
    Wanted wanted;
    wanted.words.lines = {{by_letter(naming_, cover.name) ? cover_letter(i) : cover.name}};
    wanted.anchor_mm = placing_.point(cover.points_mm[cover.points_mm.size() / 2]);
    wanted.radius_mm = 1.5;
    wanted.rather_along = outwards(cover.points_mm[cover.points_mm.size() / 2]);
    put(std::move(wanted));
  }

  const BeltView& view_;
  const Placing& placing_;
  LabelPlacer& placer_;
  Said said_;
  Naming naming_;
  Labels labels_{{"numbers, names, teeth to count, sides of the belt", {}, "labels", {}}, false};
  std::vector<Wanted> wanted_;
};

}  // namespace

bool too_wide(const std::string& name) {
  constexpr double kMostMm = 38.0;
  Label label = text_at(Vec2::Zero(), name);
  label.weight = Weight::bold;
  return text_width_mm(label) > kMostMm;
}

std::string cover_letter(std::size_t cover) {
  constexpr std::size_t kLetters = 26;
  return std::string(1, static_cast<char>('A' + cover % kLetters));
}

bool by_letter(Naming naming, const std::string& name) {
  return naming == Naming::numbers || too_wide(name);
}

Naming naming_for(const BeltView& view) {
  const bool wide = std::any_of(view.pulleys.begin(), view.pulleys.end(),
                                [](const SeenPulley& pulley) { return too_wide(pulley.name); });
  return wide ? Naming::numbers : Naming::names;
}

std::vector<std::string> list_lines(const BeltView& view, Naming naming, Said said) {
  std::vector<std::string> lines;
  std::vector<const SeenPulley*> pulleys;
  for (const SeenPulley& pulley : view.pulleys) pulleys.push_back(&pulley);
  std::sort(pulleys.begin(), pulleys.end(), [](const SeenPulley* one, const SeenPulley* other) {
    return one->fitting_order < other->fitting_order;
  });
  for (const SeenPulley* pulley : pulleys) {
    if (naming == Naming::names) break;
    std::string line = fmt::format("{} {}", pulley->fitting_order, pulley->name);
    if (said == Said::all) line += ", " + size_words(*pulley);
    const std::string off = off_words(view, static_cast<int>(pulley - view.pulleys.data()));
    if (said != Said::few && !off.empty()) line += ", its " + off;
    lines.push_back(std::move(line));
  }
  for (const SeenPin& pin : view.pins) {
    const SeenPulley& pulley = view.pulleys[at(pin.pulley)];
    if (said == Said::all || pin.radius_mm <= pulley.rim_radius_mm) continue;
    lines.push_back(fmt::format("{} of {}", pin.bar ? "bar" : "pin", pulley.fitting_order));
  }
  for (std::size_t i = 0; i < view.covers.size() && said == Said::all; ++i) {
    if (!by_letter(naming, view.covers[i].name)) continue;
    lines.push_back(fmt::format("{} {}", cover_letter(i), view.covers[i].name));
  }
  return lines;
}

std::string size_words(const SeenPulley& pulley) {
  if (pulley.teeth > 0) return counted(pulley.teeth, "tooth", "teeth");
  return "smooth, " + shortest(2.0 * pulley.outside_radius_mm, 1) + " mm";
}

std::string off_words(const BeltView& view, int pulley) {
  constexpr double kShownDeg = 0.05;
  for (const SeenMark& mark : view.marks) {
    if (mark.pulley != pulley || !mark.name.empty()) continue;
    if (std::abs(mark.error_crank_deg) < kShownDeg) return "";
    return fmt::format("mark {} crank deg {}", fixed(std::abs(mark.error_crank_deg), 1),
                       sentences::early_or_late(mark.error_crank_deg, view.direction));
  }
  return "";
}

std::string teeth_words(const SeenCount& count, double teeth) {
  return fixed(teeth, count.countable ? 0 : 1);
}

Labels labels_of(const BeltView& view, const Placing& placing, LabelPlacer& placer, Said said,
                 Naming naming) {
  return Namer(view, placing, placer, said, naming).put_all();
}

}  // namespace twoturn::draw
