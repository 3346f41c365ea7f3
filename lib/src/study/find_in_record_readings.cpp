// Face, pointer, tension, turns and marks: what a record has read.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "find_in_record.hpp"
#include "twoturn/base/angle.hpp"
#include "twoturn/base/names.hpp"
#include "twoturn/base/numbers.hpp"
#include "twoturn/face/limits.hpp"
#include "twoturn/study/tension.hpp"
#include "twoturn/timing/shafts.hpp"
#include "words/sentences.hpp"

namespace twoturn::study {
namespace {

using State = RecordItem::State;

void open(const char* what, const std::string& about, std::string text, std::string action,
          RecordAnswer& answer, std::vector<Finding>& findings) {
  Judged judged;
  judged.item = {what, about, State::open, text};
  judged.brief = std::move(text);
  judged.action = std::move(action);
  settle(std::move(judged), answer, findings);
}

void faces(const RecordCase& job, RecordAnswer& answer, std::vector<Finding>& findings) {
  for (const std::string& head : job.card.heads) {
    const auto said = std::find_if(job.record.faces.begin(), job.record.faces.end(),
                                   [&](const Record::Face& face) { return face.head == head; });
    if (said == job.record.faces.end() || !said->out_of_flat_mm) {
      open("face", head, fmt::format("not said how far out of flat {} is", the(head)),
           "lay a straight edge on it and try feelers, or see \"twoturn face\"", answer, findings);
      continue;
    }
    const double mm = *said->out_of_flat_mm;
    Judged judged;
    judged.item = {"face", head, State::done,
                   fmt::format("{} is out of flat by {} mm", the(head), shortest(mm, 3))};
    judged.value = mm;
    judged.limit = mm > kLooseFlatMm ? kLooseFlatMm : kStrictFlatMm;
    judged.item.read = mm;
    judged.item.allowed = judged.limit;
    judged.unit = "mm";
    if (mm > kStrictFlatMm) {
      judged.item.state = State::wrong;
      judged.item.text += fmt::format(", over {} mm", shortest(judged.limit, 2));
    }
    if (mm > kLooseFlatMm) judged.level = Level::stop;
    judged.brief = judged.item.text;
    judged.action = "see what the manual allows, and \"twoturn face\" for what a skim does";
    settle(std::move(judged), answer, findings);
  }
}

std::optional<double> setting_read(const Record& record, CardSetting::By by) {
  switch (by) {
    case CardSetting::By::pointer_deg:
      return record.pointer_deg;
    case CardSetting::By::roller_deg:
      return record.roller_deg;
    case CardSetting::By::roller_mm:
      return record.roller_mm;
  }
  return std::nullopt;
}

std::string shown(const CardSetting& asked, double value) {
  if (asked.by == CardSetting::By::roller_mm) return fixed(value, 2) + " mm from the slack end";
  return sentences::clock(value);
}

void setting(const RecordCase& job, RecordAnswer& answer, std::vector<Finding>& findings) {
  if (!job.card.setting) return;
  const CardSetting& asked = *job.card.setting;
  const bool slide = asked.by == CardSetting::By::roller_mm;
  const std::string thing =
      asked.by == CardSetting::By::pointer_deg ? "the pointer" : "the tensioner's roller";
  const std::optional<double> read = setting_read(job.record, asked.by);
  if (!read) {
    open("setting", "tensioner", fmt::format("not said where {} stands", thing),
         "look at it, on a cold engine, after two turns", answer, findings);
    return;
  }
  const double off =
      std::abs(slide ? *read - asked.value : std::remainder(*read - asked.value, kTurnDeg));
  Judged judged;
  judged.item = {"setting", "tensioner", State::done,
                 fmt::format("{} stands at {}, on paper at {}", thing, shown(asked, *read),
                             shown(asked, asked.value))};
  judged.value = off;
  judged.limit = asked.allowed;
  judged.item.read = *read;
  judged.item.wanted = asked.value;
  judged.item.allowed = asked.allowed;
  judged.unit = slide ? "mm" : "deg";
  if (off > asked.allowed) {
    judged.item.state = State::wrong;
    judged.item.text +=
        fmt::format(": more apart than {} {}", fixed(asked.allowed, slide ? 2 : 1), judged.unit);
  }
  judged.brief = judged.item.text;
  judged.action = "find out why before going on: the belt's count, a part's size, or its setting";
  settle(std::move(judged), answer, findings);
}

void tension(const RecordCase& job, RecordAnswer& answer, std::vector<Finding>& findings) {
  if (!job.card.tension) return;
  const CardTension& asked = *job.card.tension;
  const std::string run = fmt::format("{} to {}", plain_name(asked.from), plain_name(asked.to));
  if (!job.record.tension_by) {
    open("tension", run, fmt::format("no tension was read on the run {}", run),
         "read it as N, Hz or mm of give", answer, findings);
    return;
  }
  TensionQuestion question;
  question.by = job.record.tension_by;
  question.value = job.record.tension_read;
  question.push_n = job.record.tension_push_n;
  question.from = asked.from;
  question.to = asked.to;
  std::vector<Missing> ignored;
  const FitAnswer& judged_fit = job.check.judged;
  const TensionAnswer read =
      tension_answer(job.spec, *judged_fit.fitted, *judged_fit.turns, question, ignored);
  if (!read.reading || !read.reading->stands) {
    open("tension", run,
         fmt::format("what was read on the run {} says nothing of its tension", run),
         "read it in another way: N, Hz or mm of give", answer, findings);
    return;
  }
  Judged judged;
  judged.item = {"tension", run, State::done,
                 fmt::format("the run {} has {} N, give or take {}, and should have {} N", run,
                             fixed(read.reading->tension_n, 0),
                             fixed(read.reading->tension_give_n, 0), fixed(asked.tension_n, 0))};
  judged.value = read.reading->tension_n;
  judged.item.read = read.reading->tension_n;
  judged.item.wanted = asked.tension_n;
  judged.item.allowed = read.reading->tension_give_n;
  judged.limit = asked.tension_n;
  judged.unit = "N";
  const TensionStands stands = *read.reading->stands;
  const TensionWords words = words_of(stands);
  const bool certain = stands == TensionStands::low || stands == TensionStands::high;
  if (stands != TensionStands::fits) {
    judged.item.state = certain ? State::wrong : State::open;
    judged.item.text += ", " + words.judged;
  }
  judged.brief = judged.item.text;
  judged.action = words.to_do + (certain ? ", turn twice by hand, and read it again" : "");
  settle(std::move(judged), answer, findings);
}

void turns(const RecordCase& job, RecordAnswer& answer, std::vector<Finding>& findings) {
  const std::optional<int>& made = job.record.turns_by_hand;
  if (!made) {
    open("turns", "crank", "not said how many turns were made by hand",
         "turn the crank twice by hand, in its running direction", answer, findings);
    return;
  }
  Judged judged;
  judged.item = {"turns", "crank", State::done,
                 fmt::format("{} made by hand", counted(*made, "turn", "turns"))};
  judged.value = *made;
  judged.limit = 2.0;
  judged.item.read = judged.value;
  judged.item.wanted = judged.limit;
  judged.unit = "turns";
  if (*made < 2 || *made % 2 != 0) judged.item.state = State::wrong;
  judged.brief = judged.item.text + ", not two";
  judged.action = "make two: only then has every shaft been round";
  settle(std::move(judged), answer, findings);
}

// Half a tooth out is a stop; the eye is good for a millimetre (common practice).
constexpr double kEyeMm = 1.0;

// So many teeth at a shaft's edge, where its mark is read; nothing where that is not known.
std::optional<double> stop_edge_mm(const RecordCase& job, const std::string& name) {
  if (!job.check.judged.turns) return std::nullopt;
  const std::vector<Shaft>& shafts = job.check.judged.turns->assembly.shafts;
  const auto found = std::find_if(shafts.begin(), shafts.end(),
                                  [&](const Shaft& shaft) { return shaft.name == name; });
  if (found == shafts.end() || !found->edge_radius_mm()) return std::nullopt;
  const double tooth_deg = tooth_own_deg(shafts, static_cast<int>(found - shafts.begin()));
  return limits_of(job.spec.limits).stop_teeth * std::abs(tooth_deg) * kRadPerDeg *
         *found->edge_radius_mm();
}

void mark(const RecordCase& job, const CardMark& asked, const Record::Mark* said,
          RecordAnswer& answer, std::vector<Finding>& findings) {
  const std::string thing = fmt::format("the mark of {}", the(asked.shaft));
  if (said == nullptr || (!said->back && !said->off_mm)) {
    open("mark", asked.shaft, fmt::format("not said whether {} came back after two turns", thing),
         "look at it after two turns", answer, findings);
    return;
  }
  const double off = said->off_mm.value_or(0.0);
  const std::optional<double> stop_mm = stop_edge_mm(job, asked.shaft);
  const bool beyond = stop_mm && std::abs(off) >= *stop_mm;
  const bool far = beyond || std::abs(off) > kEyeMm;
  Judged judged;
  judged.item = {"mark", asked.shaft, State::done, thing + " came back"};
  judged.value = std::abs(off);
  judged.limit = kEyeMm;
  judged.item.read = said->off_mm;
  judged.item.allowed = kEyeMm;
  judged.unit = "mm";
  if (said->back == false || far) {
    judged.item.state = State::wrong;
    judged.item.text = said->off_mm
                           ? fmt::format("{} is off by {} mm after two turns, {}", thing,
                                         shortest(std::abs(off), 2), off < 0.0 ? "late" : "early")
                           : fmt::format("{} did not come back after two turns", thing);
  }
  if (beyond) {
    judged.level = Level::stop;
    judged.limit = *stop_mm;
  }
  judged.brief = judged.item.text;
  judged.action = beyond ? "find out why before turning it: \"twoturn why\" tells what does that"
                         : "turn twice again; if it stays, \"twoturn why\" tells what does that";
  settle(std::move(judged), answer, findings);
}

void pin_in(const CardMark& asked, const Record::Mark* said, RecordAnswer& answer,
            std::vector<Finding>& findings) {
  if (asked.held_by.empty()) return;
  const std::string thing = fmt::format("the {} of {}", asked.held_by, the(asked.shaft));
  if (said == nullptr || !said->pin_in) {
    open("pin in", asked.shaft, fmt::format("not said whether {} went in after two turns", thing),
         "try it by hand after two turns", answer, findings);
    return;
  }
  Judged judged;
  judged.item = {
      "pin in", asked.shaft, *said->pin_in ? State::done : State::wrong,
      fmt::format("{} {} after two turns", thing, *said->pin_in ? "went in" : "did not go in")};
  judged.brief = judged.item.text;
  judged.action = "do not force it: find out how far that shaft is out";
  settle(std::move(judged), answer, findings);
}

}  // namespace

void readings_of_record(const RecordCase& job, RecordAnswer& answer,
                        std::vector<Finding>& findings) {
  faces(job, answer, findings);
  setting(job, answer, findings);
  tension(job, answer, findings);
  turns(job, answer, findings);
  for (const CardMark& asked : job.card.marks) {
    const auto said =
        std::find_if(job.record.marks.begin(), job.record.marks.end(),
                     [&](const Record::Mark& one) { return one.shaft == asked.shaft; });
    const Record::Mark* found = said == job.record.marks.end() ? nullptr : &*said;
    mark(job, asked, found, answer, findings);
    pin_in(asked, found, answer, findings);
  }
}

}  // namespace twoturn::study
