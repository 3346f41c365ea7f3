#include "twoturn/study/bolts.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "twoturn/base/names.hpp"
#include "twoturn/base/numbers.hpp"
#include "twoturn/engine/bolts.hpp"
#include "words/bolts.hpp"
#include "words/sentences.hpp"

namespace twoturn {
namespace {

int count_of(const BoltsSpec& spec) {
  return spec.positions_mm.empty() ? spec.count.value_or(0)
                                   : static_cast<int>(spec.positions_mm.size());
}

BoltOrder order_of(const BoltsSpec& spec) {
  if (!spec.order.empty()) return BoltOrder::given;
  return spec.positions_mm.empty() ? BoltOrder::not_known : BoltOrder::usual;
}

std::vector<BoltPlace> in_order(const BoltsSpec& spec) {
  std::vector<int> positions = spec.order;
  if (positions.empty() && !spec.positions_mm.empty()) {
    for (const int index : usual_bolt_order(spec.positions_mm)) positions.push_back(index + 1);
  }
  if (positions.empty()) {
    for (int k = 1; k <= count_of(spec); ++k) positions.push_back(k);
  }
  std::vector<BoltPlace> bolts;
  for (const int position : positions) {
    BoltPlace bolt{static_cast<int>(bolts.size()) + 1, position};
    if (!spec.positions_mm.empty()) {
      bolt.at_mm = spec.positions_mm[static_cast<std::size_t>(position) - 1];
    }
    bolts.push_back(bolt);
  }
  return bolts;
}

std::vector<BoltStage> stages_of(const BoltsSpec& spec) {
  std::vector<BoltStage> stages;
  double total = 0.0;
  for (const BoltStageSpec& given : spec.stages) {
    BoltStage stage;
    stage.stage = static_cast<int>(stages.size()) + 1;
    if (given.torque_nm) {
      total = 0.0;
      stage.torque_nm = given.torque_nm;
      stage.torque_lbf_ft = sentences::lbf_ft(*given.torque_nm);
      stage.move = "to " + sentences::torque(*given.torque_nm);
    } else {
      total += *given.angle_deg;
      const sentences::AngleMove move{*given.angle_deg, total};
      stage.angle_deg = given.angle_deg;
      stage.total_deg = total;
      stage.dot_from_deg = sentences::dot_from_deg(move);
      stage.dot_to_deg = sentences::dot_to_deg(move);
      stage.move = sentences::angle_move(move);
      if (spec.pitch_mm) stage.advance_mm = bolt_advance_mm(*spec.pitch_mm, *given.angle_deg);
    }
    stages.push_back(std::move(stage));
  }
  return stages;
}

// Of all that comes after the last torque.
double angle_after_torque_deg(const std::vector<BoltStage>& stages) {
  return stages.empty() ? 0.0 : stages.back().total_deg.value_or(0.0);
}

std::optional<BoltBound> bound_of(const BoltsSpec& spec, const std::vector<BoltStage>& stages) {
  const double angle = angle_after_torque_deg(stages);
  const bool known =
      spec.pitch_mm && spec.length_mm && spec.shank_mm && spec.joint_stiffness_n_mm && angle > 0.0;
  if (!known) return std::nullopt;
  BoltBound bound;
  bound.shank_mm = *spec.shank_mm;
  bound.modulus_given = spec.modulus_n_mm2.has_value();
  bound.modulus_n_mm2 = spec.modulus_n_mm2.value_or(kSteelModulusNMm2);
  const ElasticBar bar{round_area_mm2(*spec.shank_mm), *spec.length_mm, bound.modulus_n_mm2};
  bound.advance_mm = bolt_advance_mm(*spec.pitch_mm, angle);
  bound.bolt_n_per_mm = bar.stiffness_n_per_mm();
  bound.joint_n_per_mm = *spec.joint_stiffness_n_mm;
  const BoltedJoint joint =
      bolted_joint(bound.advance_mm, bound.bolt_n_per_mm, bound.joint_n_per_mm);
  bound.load_n = joint.load_n;
  bound.stretch_mm = joint.stretch_mm;
  bound.squeeze_mm = joint.squeeze_mm;
  bound.stress_n_mm2 = joint.load_n / bar.area_mm2;
  return bound;
}

std::vector<std::string> notes_of(const BoltGroup& group) {
  std::vector<std::string> notes;
  const bool by_angle = angle_after_torque_deg(group.stages) > 0.0;
  if (by_angle && group.condition == BoltCondition::reused) {
    notes.emplace_back(
        "Tightened by angle and used before: such bolts are stretched as they are tightened, and "
        "as a rule are used once (common practice). New ones, unless the manual says otherwise.");
  }
  if (by_angle) {
    notes.emplace_back(
        "After the torque a dot of paint at 12 o'clock on each head: it shows the angle.");
  }
  if (!group.threads && !group.stages.empty()) {
    notes.emplace_back(
        "Whether the threads are to be dry or oiled is not given: the same torque pulls far harder "
        "on an oiled one. Look it up first.");
  }
  if (group.order == BoltOrder::usual) {
    notes.emplace_back(
        "The order is the usual one, proposed from the places (common practice); the manual's own "
        "comes first.");
  }
  if (group.order_to_find()) {
    notes.emplace_back("The order is not given: number the bolts as the manual's picture does.");
  }
  return notes;
}

class Asking {
 public:
  Asking(const BoltsSpec& spec, std::vector<Missing>& missing) : spec_(spec), missing_(missing) {}

  void ask(std::string answer, const char* key, std::string measure) {
    missing_.push_back(
        {std::move(answer), fmt::format("bolts.{}.{}", spec_.name, key), std::move(measure)});
  }

  void all(const BoltGroup& group) {
    const std::string name = the(spec_.name);
    if (group.bolts.empty()) {
      ask("the grid of " + name, "count", "count " + name);
    }
    if (group.order_to_find()) {
      ask("the order of " + name + ", drawn", "positions_mm",
          "measure where each stands, from any corner, looking down on their heads");
    }
    if (group.stages.empty()) {
      ask("the tightening of " + name, "stage",
          "look up the stages in the manual: a torque, or an angle, each a [[bolts.stage]]");
    }
    if (angle_after_torque_deg(group.stages) > 0.0) about_angles(name);
    if (!spec_.condition) {
      ask("whether to use " + name + " again", "condition", "say whether new or reused");
    }
    if (!spec_.threads) {
      ask("what a torque comes to on " + name, "threads",
          "look up whether threads and heads are oiled or dry");
    }
  }

 private:
  void about_angles(const std::string& name) {
    if (!spec_.pitch_mm) {
      ask("how far an angle moves " + name, "pitch_mm",
          "measure the thread of one: ten turns of it, divided by ten");
    }
    const std::string bound = "an upper bound for the pull of the angles on " + name;
    if (!spec_.length_mm) {
      ask(bound, "length_mm", "measure one from under its head to the first thread that holds");
    }
    if (!spec_.shank_mm) ask(bound, "shank_mm", "measure the diameter of that part");
    if (!spec_.joint_stiffness_n_mm) {
      ask(bound, "joint_stiffness_n_mm",
          "work out the stiffness of the joint under one bolt: area times modulus through length");
    }
  }

  const BoltsSpec& spec_;
  std::vector<Missing>& missing_;
};

BoltGroup group_of(const DriveSpec& drive, const BoltsSpec& spec) {
  BoltGroup group;
  group.name = spec.name;
  group.holds = spec.holds;
  group.holds_head = std::any_of(drive.heads.begin(), drive.heads.end(),
                                 [&](const HeadSpec& head) { return head.name == spec.holds; });
  group.order = order_of(spec);
  group.bolts = in_order(spec);
  group.stages = stages_of(spec);
  group.pitch_mm = spec.pitch_mm;
  group.length_mm = spec.length_mm;
  group.condition = spec.condition;
  group.threads = spec.threads;
  group.bound = bound_of(spec, group.stages);
  group.notes = notes_of(group);
  return group;
}

std::vector<int> bolts_through(const std::vector<int>& reached, int stage, int after) {
  std::vector<int> bolts;
  for (std::size_t k = static_cast<std::size_t>(after); k < reached.size(); ++k) {
    if (reached[k] == stage) bolts.push_back(static_cast<int>(k) + 1);
  }
  return bolts;
}

// Those that went through a stage before a bolt that comes earlier, or are a stage ahead of others.
std::vector<std::string> out_of_order(const std::vector<int>& reached, int stage, int first) {
  std::vector<std::string> noticed;
  if (const std::vector<int> early = bolts_through(reached, stage, first); !early.empty()) {
    noticed.push_back(fmt::format("{} went through stage {} before bolt {}.",
                                  capital(sentences::bolts_numbered(early)), stage, first));
  }
  const int furthest = *std::max_element(reached.begin(), reached.end());
  for (int at = stage + 1; at <= furthest; ++at) {
    const std::vector<int> ahead = bolts_through(reached, at, 0);
    if (ahead.empty()) continue;
    const bool one = ahead.size() == 1;
    noticed.push_back(fmt::format(
        "{} {} through stage {} already, while bolt {} is not through stage {}: leave {} there "
        "until the others have come so far.",
        capital(sentences::bolts_numbered(ahead)), one ? "is" : "are", at, first, stage,
        one ? "it" : "them"));
  }
  return noticed;
}

}  // namespace

BoltsAnswer bolts_answer(const DriveSpec& spec, std::vector<Missing>& missing) {
  BoltsAnswer answer;
  for (const BoltsSpec& bolts : spec.bolts) {
    answer.groups.push_back(group_of(spec, bolts));
    Asking(bolts, missing).all(answer.groups.back());
  }
  return answer;
}

NextBolt next_bolt(const BoltGroup& group, const std::vector<int>& reached) {
  const int last = static_cast<int>(group.stages.size());
  std::vector<int> stood = reached;
  stood.resize(group.bolts.size(), 0);
  NextBolt next;
  next.group = group.name;
  next.of = last * static_cast<int>(stood.size());
  for (int& at : stood) {
    at = std::clamp(at, 0, last);
    next.ticks += at;
  }
  next.reached = stood;
  const auto least = std::min_element(stood.begin(), stood.end());
  next.all_done = least == stood.end() || *least == last;
  if (next.all_done) return next;
  next.bolt = static_cast<int>(least - stood.begin()) + 1;
  next.stage = *least + 1;
  next.move = group.stages[static_cast<std::size_t>(*least)].move;
  next.noticed = out_of_order(stood, next.stage, next.bolt);
  return next;
}

std::string what_lacks(const BoltGroup& group) {
  if (!group.bolts.empty()) return "what stages they have is";
  return group.stages.empty() ? "their count and stages are" : "their count is";
}

std::string why_not_reached(const BoltGroup& group, const std::vector<int>& reached) {
  if (group.bolts.empty() || group.stages.empty()) {
    return fmt::format("{}: {} not given", group.name, what_lacks(group));
  }
  if (reached.size() > group.bolts.size()) {
    return fmt::format("of {} there are {}, not {}", the(group.name), group.bolts.size(),
                       reached.size());
  }
  const int last = static_cast<int>(group.stages.size());
  for (const int at : reached) {
    if (at >= 0 && at <= last) continue;
    return fmt::format("{} is no stage: they are 1 to {}, and 0 for none yet", at, last);
  }
  return "";
}

}  // namespace twoturn
