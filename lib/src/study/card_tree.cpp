// Which look next: the one that tells most of where simulated faults end, easiest first among near
// equals; at the last two looks the one after which most are right.
#include "card_tree.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <numeric>
#include <set>

#include "base/at.hpp"
#include "twoturn/base/angle.hpp"

namespace twoturn::card {
namespace {

using Group = std::vector<const Sample*>;

constexpr int kDeepest = 3;
constexpr int kMostCuts = 8;
constexpr double kStep = 0.5;     // what an eye can read; a pointer is read no better than a degree
constexpr double kMostRows = 57;  // of 10 pt, on one side of paper
constexpr double kLookColumns = 3.0;
constexpr double kEndColumns = 2.0;
constexpr std::size_t kFewest = 6;  // samples on either side of a cut
constexpr double kNearEqual = 0.995;

double weight_of(double count) { return count > 0.0 ? count * std::log2(count) : 0.0; }

// How many samples of each end, and the sum that their entropy comes from.
class Mix {
 public:
  explicit Mix(int ends) : counts_(at(ends), 0.0) {}
  void add(int end, double by) {
    double& count = counts_[at(end)];
    sum_ += weight_of(count + by) - weight_of(count);
    count += by;
    all_ += by;
  }
  double bits() const { return weight_of(all_) - sum_; }

 private:
  std::vector<double> counts_;
  double sum_ = 0.0;
  double all_ = 0.0;
};

Mix mix_of(const Group& group, int ends) {
  Mix mix(ends);
  for (const Sample* sample : group) mix.add(sample->label, 1.0);
  return mix;
}

bool puts_right(int end, const Sample& sample) {
  return std::find(sample.ends.begin(), sample.ends.end(), end) != sample.ends.end();
}

// The end that puts most of a group right, and how many; of near equals the one whose own faults
// are most.
struct Leading {
  int end = 0;
  double count = 0.0;
};
Leading leading(const Group& group, int ends) {
  std::vector<int> counts(at(ends), 0);
  std::vector<int> own(at(ends), 0);
  for (const Sample* sample : group) {
    for (const int end : sample->ends) ++counts[at(end)];
    ++own[at(sample->end)];
  }
  const int most = *std::max_element(counts.begin(), counts.end());
  constexpr double kAsMany = 0.99;
  int lead = -1;
  for (int end = 0; end < ends; ++end) {
    const bool near = counts[at(end)] >= kAsMany * most;
    if (near && (lead < 0 || own[at(end)] > own[at(lead)])) lead = end;
  }
  return {lead, static_cast<double>(counts[at(lead)])};
}

bool settled(const Leading& lead, const Group& group) {
  constexpr double kSettled = 0.98;
  return lead.count > kSettled * static_cast<double>(group.size());
}

bool measured(CardAsk ask) {
  return ask == CardAsk::mark || ask == CardAsk::further_mark || ask == CardAsk::pointer ||
         ask == CardAsk::count;
}

double value_of(const Question& question, const Reading& reading) {
  const std::size_t part = at(std::max(question.part, 0));
  switch (question.ask) {
    case CardAsk::mark:
      return reading.marks[part];
    case CardAsk::further_mark:
      return reading.further[part];
    case CardAsk::count:
      return reading.counts[part];
    default:
      return reading.pointer;
  }
}

class Grower {
 public:
  Grower(const Ground& ground, const std::vector<int>& lines)
      : ground_(ground), lines_(lines), ends_(static_cast<int>(lines.size())) {
    list_questions();
  }

  std::vector<Node> grow(const std::vector<Sample>& samples) {
    Group all;
    for (const Sample& sample : samples) all.push_back(&sample);
    add_node(all, kDeepest);
    prune();
    return std::move(nodes_);
  }

 private:
  void list_questions() {
    const auto any = [&](LookKind kind) {
      return std::any_of(ground_.looks.begin(), ground_.looks.end(),
                         [kind](const Look& look) { return look.kind == kind; });
    };
    if (any(LookKind::pin)) questions_.push_back({CardAsk::pins});
    if (any(LookKind::mark)) {
      for (const double mm : thresholds()) questions_.push_back({CardAsk::marks, -1, mm});
    }
    const auto each = [&](LookKind kind, CardAsk ask) {
      for (const Look& look : ground_.looks) {
        if (look.kind == kind) questions_.push_back({ask, look.part});
      }
    };
    each(LookKind::mark, CardAsk::mark);
    each(LookKind::further_mark, CardAsk::further_mark);
    questions_.push_back({CardAsk::again});
    if (any(LookKind::pointer) && ground_.right.pointer) questions_.push_back({CardAsk::pointer});
    each(LookKind::count, CardAsk::count);
    questions_.push_back({CardAsk::signs});
  }

  // Off by more than an eye may be mistaken, and than half the smallest tooth.
  std::vector<double> thresholds() const {
    constexpr double kEyeMm = 2.0;
    double tooth_mm = 0.0;
    for (const BenchPart& part : ground_.layout.shafts) {
      if (!part.mark_radius_mm) continue;
      const double mm = Angle::degrees(part.tooth_deg).radians() * *part.mark_radius_mm / 2.0;
      tooth_mm = tooth_mm == 0.0 ? mm : std::min(tooth_mm, mm);
    }
    const double half = kStep * std::round(tooth_mm / kStep);
    return half > kEyeMm ? std::vector<double>{kEyeMm, half} : std::vector<double>{kEyeMm};
  }

  struct Valued {
    double value;
    double clean;
    int end;
  };

  // Where to cut one interval so that it tells most; its ends are indices of sorted values.
  struct Cut {
    double gain = 0.0;
    std::size_t after = 0;
  };
  Cut best_cut(const std::vector<Valued>& values, std::size_t from, std::size_t to) const {
    Mix left(ends_);
    Mix right(ends_);
    for (std::size_t i = from; i < to; ++i) right.add(values[i].end, 1.0);
    const double whole = right.bits();
    Cut best;
    for (std::size_t i = from; i + 1 < to; ++i) {
      left.add(values[i].end, 1.0);
      right.add(values[i].end, -1.0);
      if (values[i + 1].value - values[i].value < 1e-9) continue;
      if (i + 1 - from < kFewest || to - i - 1 < kFewest) continue;
      const double gain = whole - left.bits() - right.bits();
      if (gain > best.gain) best = {gain, i + 1};
    }
    return best;
  }

  // Halfway between the benches on either side where there is a gap, else where readings divide.
  static double place_of(const std::vector<Valued>& values, std::size_t after) {
    const double read = (values[after - 1].value + values[after].value) / 2.0;
    double below = -1e9;
    double above = 1e9;
    for (const Valued& one : values) {
      if (one.clean <= read) below = std::max(below, one.clean);
      if (one.clean > read) above = std::min(above, one.clean);
    }
    constexpr double kGap = 2.0;
    const bool gap = above - below > kGap && below > -1e9 && above < 1e9;
    return kStep * std::round((gap ? (below + above) / 2.0 : read) / kStep);
  }

  std::vector<double> cuts_of(const Question& question, const Group& group) const {
    std::vector<Valued> values;
    for (const Sample* sample : group) {
      values.push_back(
          {value_of(question, sample->read), value_of(question, sample->clean), sample->label});
    }
    std::sort(values.begin(), values.end(),
              [](const Valued& a, const Valued& b) { return a.value < b.value; });
    std::vector<std::size_t> bounds{0, values.size()};
    const double least_gain = std::max(6.0, 0.02 * static_cast<double>(values.size()));
    std::map<std::pair<std::size_t, std::size_t>, Cut> known;
    for (int k = 0; k < kMostCuts; ++k) {
      Cut best;
      for (std::size_t i = 1; i < bounds.size(); ++i) {
        const std::pair<std::size_t, std::size_t> span{bounds[i - 1], bounds[i]};
        if (known.count(span) == 0) known[span] = best_cut(values, span.first, span.second);
        if (known[span].gain > best.gain) best = known[span];
      }
      if (best.gain < least_gain) break;
      bounds.push_back(best.after);
      std::sort(bounds.begin(), bounds.end());
    }
    std::vector<double> cuts;
    for (std::size_t i = 1; i + 1 < bounds.size(); ++i) cuts.push_back(place_of(values, bounds[i]));
    std::sort(cuts.begin(), cuts.end());
    cuts.erase(std::unique(cuts.begin(), cuts.end()), cuts.end());
    return cuts;
  }

  struct Parted {
    Question question{};
    std::map<int, Group> parts{};
    double bits_left = 0.0;
    double most = 0.0;  // right, were each part to end
  };
  Parted part(Question question, const Group& group) const {
    if (measured(question.ask)) question.cuts = cuts_of(question, group);
    Parted parted;
    for (const Sample* sample : group) {
      parted.parts[answer_of(ground_, question, sample->read)].push_back(sample);
    }
    for (const auto& [answer, members] : parted.parts) {
      parted.bits_left += mix_of(members, ends_).bits();
      parted.most += leading(members, ends_).count;
    }
    parted.question = std::move(question);
    return parted;
  }

  // How many would be right after the best that is still to be asked.
  double best_after(const Parted& parted, int deep) const {
    if (deep == 0) return parted.most;
    double sum = 0.0;
    for (const auto& [answer, members] : parted.parts) {
      const Leading now = leading(members, ends_);
      sum += settled(now, members) ? now.count : best(members, deep).second;
    }
    return sum;
  }

  // The look to take with `deep` left, itself counted, and how many are right in the end.
  std::pair<Parted, double> best(const Group& group, int deep) const {
    std::vector<Parted> tried;
    for (const Question& question : questions_) {
      Parted parted = part(question, group);
      if (parted.parts.size() > 1) tried.push_back(std::move(parted));
    }
    if (tried.empty()) return {part(questions_.front(), group), leading(group, ends_).count};
    std::vector<std::size_t> order(tried.size());
    std::iota(order.begin(), order.end(), std::size_t{0});
    std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
      return tried[a].bits_left < tried[b].bits_left;
    });
    const std::size_t worth = deep == 1 ? order.size() : std::min<std::size_t>(8, order.size());
    order.resize(worth);
    std::sort(order.begin(), order.end());  // easiest first again
    std::vector<double> right;
    for (const std::size_t i : order) right.push_back(best_after(tried[i], deep - 1));
    const double most = *std::max_element(right.begin(), right.end());
    for (std::size_t k = 0; k < order.size(); ++k) {
      const double near = kNearEqual + (1.0 - kNearEqual) * (deep == 1 ? 0.7 : 0.0);
      if (right[k] >= near * most) return {std::move(tried[order[k]]), right[k]};
    }
    return {std::move(tried[order.front()]), most};
  }

  int add_node(const Group& group, int deep) {
    Parted parted = best(group, deep).first;
    if (parted.parts.size() < 2) return -1;
    const int here = static_cast<int>(nodes_.size());
    nodes_.emplace_back();
    nodes_[at(here)].question = parted.question;
    for (auto& [answer, members] : parted.parts) {
      Branch branch;
      branch.answer = answer;
      const Leading lead = leading(members, ends_);
      branch.end = lead.end;
      if (deep > 1 && !settled(lead, members) && members.size() > 4) {
        branch.next = add_node(members, deep - 1);
      }
      branch.samples = std::move(members);
      nodes_[at(here)].branches.push_back(std::move(branch));
    }
    return here;
  }

  int right_of(const Branch& branch) const {
    if (branch.next < 0) return branch.right();
    int sum = 0;
    for (const Branch& further : nodes_[at(branch.next)].branches) sum += right_of(further);
    return sum;
  }

  int lines_of(int node) const {
    int lines = 1;
    for (const Branch& branch : nodes_[at(node)].branches) {
      ++lines;
      if (branch.next >= 0) lines += lines_of(branch.next);
    }
    return lines;
  }

  void ends_of(int node, std::set<int>& ends) const {
    for (const Branch& branch : nodes_[at(node)].branches) {
      if (branch.next >= 0) {
        ends_of(branch.next, ends);
      } else {
        const std::vector<int> may_be = branch.may_be();
        ends.insert(may_be.begin(), may_be.end());
      }
    }
  }

  double rows_on_paper() const {
    std::set<int> ends;
    ends_of(0, ends);
    double lines = 0.0;
    for (const int end : ends) lines += lines_[at(end)];
    return 2.0 + lines_of(0) / kLookColumns + lines / kEndColumns;
  }

  // Takes away the look that is worth least for the lines it takes, until the paper holds all.
  void prune() {
    while (true) {
      Branch* least = nullptr;
      double least_worth = 1e9;
      visit(0, [&](Branch& branch) {
        if (branch.next < 0) return;
        const double gain = right_of(branch) - branch.right();
        const double worth = gain / lines_of(branch.next);
        if (worth < least_worth) {
          least_worth = worth;
          least = &branch;
        }
      });
      if (least == nullptr || (least_worth > 0.1 && rows_on_paper() <= kMostRows)) break;
      least->next = -1;
    }
    gather();
  }

  template <class Do>
  void visit(int node, const Do& what) {
    for (Branch& branch : nodes_[at(node)].branches) {
      if (branch.next >= 0) visit(branch.next, what);
      what(branch);
    }
  }

  // Neighbouring intervals that end alike become one; nodes no longer reached go.
  void gather() {
    std::vector<Node> kept;
    move_on(0, kept);
    nodes_ = std::move(kept);
  }

  int move_on(int from, std::vector<Node>& kept) {
    const int here = static_cast<int>(kept.size());
    kept.emplace_back();
    Node node = std::move(nodes_[at(from)]);
    if (measured(node.question.ask)) join(node);
    for (Branch& branch : node.branches) {
      if (branch.next >= 0) branch.next = move_on(branch.next, kept);
    }
    kept[at(here)] = std::move(node);
    return here;
  }

  static void join(Node& node) {
    std::vector<Branch> joined;
    std::vector<double> cuts;
    for (Branch& branch : node.branches) {
      Branch* before = joined.empty() ? nullptr : &joined.back();
      const bool alike =
          before != nullptr && before->next < 0 && branch.next < 0 && before->end == branch.end;
      if (alike) {
        before->samples.insert(before->samples.end(), branch.samples.begin(), branch.samples.end());
        continue;
      }
      if (before != nullptr) cuts.push_back(node.question.cuts[at(branch.answer) - 1]);
      joined.push_back(std::move(branch));
      joined.back().answer = static_cast<int>(joined.size()) - 1;
    }
    node.branches = std::move(joined);
    node.question.cuts = std::move(cuts);
  }

  const Ground& ground_;
  const std::vector<int>& lines_;
  int ends_;
  std::vector<Question> questions_;
  std::vector<Node> nodes_;
};

}  // namespace

int Branch::right() const {
  return static_cast<int>(std::count_if(
      samples.begin(), samples.end(), [this](const Sample* one) { return puts_right(end, *one); }));
}

std::vector<int> Branch::may_be() const {
  constexpr double kWorthNaming = 0.15;
  std::map<int, int> counts;
  for (const Sample* sample : samples) {
    if (puts_right(end, *sample)) ++counts[sample->end];
  }
  std::vector<int> ends;
  for (const auto& [one, count] : counts) {
    const bool many = count >= kWorthNaming * static_cast<double>(samples.size());
    if (many || one == end) ends.push_back(one);
  }
  if (counts.count(end) == 0) ends.push_back(end);
  std::sort(ends.begin(), ends.end());  // ends stand in the catalogue's order, commonest first
  return ends;
}

std::vector<Node> tree_of(const Ground& ground, const std::vector<Sample>& samples,
                          const std::vector<int>& lines) {
  return Grower(ground, lines).grow(samples);
}

}  // namespace twoturn::card
