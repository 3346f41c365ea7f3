#include "twoturn/drive/choice_words.hpp"

#include <array>

namespace twoturn {
namespace {

constexpr std::array<std::string_view, 2> kTurns{"clockwise", "anticlockwise"};
constexpr std::array<std::string_view, 2> kFaces{"tooth", "back"};
constexpr std::array<std::string_view, 8> kRoles{
    "crankshaft",      "camshaft",   "injection pump", "balance shaft",
    "auxiliary shaft", "water pump", "oil pump",       "idler"};
constexpr std::array<std::string_view, 3> kFixings{"keyed", "adjustable", "free until tightened"};
constexpr std::array<std::string_view, 3> kMarksOn{"as made", "tooth", "groove"};
constexpr std::array<std::string_view, 5> kOrigins{"not said", "example", "assumed", "manual",
                                                   "measured"};
constexpr std::array<std::string_view, 3> kBetween{"centres", "outside", "inside"};
constexpr std::array<std::string_view, 2> kSides{"inlet", "exhaust"};
constexpr std::array<std::string_view, 5> kLaws{"cycloidal", "harmonic", "3-4-5", "4-5-6-7",
                                                "modified sine"};
constexpr std::array<std::string_view, 2> kCrowns{"pocket", "flat"};
constexpr std::array<std::string_view, 2> kLiftParts{"valve", "cam"};
constexpr std::array<std::string_view, 2> kHolds{"locked", "sprung"};
constexpr std::array<std::string_view, 2> kConditions{"new", "reused"};
constexpr std::array<std::string_view, 2> kThreads{"dry", "oiled"};
constexpr std::array<std::string_view, 3> kPinsFelt{"in", "tight", "out"};
constexpr std::array<std::string_view, 2> kSeenAgain{"repeats", "wanders"};
constexpr std::array<std::string_view, 2> kLastTurned{"forwards", "backwards"};
constexpr std::array<std::string_view, 23> kFaults{
    "none",       "eye",          "tooth-out",     "crank-tooth", "half-turn",   "slack-left",
    "belt-count", "over-centre",  "tensioner-off", "head-change", "other-size",  "tooth-count",
    "seat",       "seat-by-pins", "swapped",       "other-mark",  "slipped",     "loose-pin",
    "backwards",  "transit-pin",  "not-seated",    "outer-mark",  "tool-in-hole"};

const auto& table(Turn) { return kTurns; }
const auto& table(Face) { return kFaces; }
const auto& table(Role) { return kRoles; }
const auto& table(Fixing) { return kFixings; }
const auto& table(MarkOn) { return kMarksOn; }
const auto& table(Origin) { return kOrigins; }
const auto& table(Between) { return kBetween; }
const auto& table(ValveSide) { return kSides; }
const auto& table(LiftLaw) { return kLaws; }
const auto& table(CrownShape) { return kCrowns; }
const auto& table(LiftAtPart) { return kLiftParts; }
const auto& table(Holds) { return kHolds; }
const auto& table(BoltCondition) { return kConditions; }
const auto& table(ThreadState) { return kThreads; }
const auto& table(PinFelt) { return kPinsFelt; }
const auto& table(SeenAgain) { return kSeenAgain; }
const auto& table(LastTurned) { return kLastTurned; }
const auto& table(FaultKind) { return kFaults; }

template <class Choice>
std::string_view look_up(Choice choice) {
  return table(choice)[static_cast<std::size_t>(choice)];
}

}  // namespace

std::string_view word(Turn turn) { return look_up(turn); }
std::string_view word(Face face) { return look_up(face); }
std::string_view word(Role role) { return look_up(role); }
std::string_view word(Fixing fixing) { return look_up(fixing); }
std::string_view word(MarkOn mark_on) { return look_up(mark_on); }
std::string_view word(Origin origin) { return look_up(origin); }
std::string_view word(Between between) { return look_up(between); }
std::string_view word(ValveSide side) { return look_up(side); }
std::string_view word(LiftLaw law) { return look_up(law); }
std::string_view word(CrownShape crown) { return look_up(crown); }
std::string_view word(LiftAtPart part) { return look_up(part); }
std::string_view word(Holds holds) { return look_up(holds); }
std::string_view word(BoltCondition condition) { return look_up(condition); }
std::string_view word(ThreadState threads) { return look_up(threads); }
std::string_view word(PinFelt pin) { return look_up(pin); }
std::string_view word(SeenAgain again) { return look_up(again); }
std::string_view word(LastTurned turned) { return look_up(turned); }
std::string_view word(FaultKind kind) { return look_up(kind); }

template <class Choice>
const std::vector<std::string>& words_of() {
  static const std::vector<std::string> words(table(Choice{}).begin(), table(Choice{}).end());
  return words;
}

template <class Choice>
std::optional<Choice> from_word(std::string_view text) {
  const std::string_view wanted = text == "counterclockwise" ? "anticlockwise"
                                  : text == "intake"         ? "inlet"
                                                             : text;
  const auto& words = table(Choice{});
  for (std::size_t i = 0; i < words.size(); ++i) {
    if (words[i] == wanted) return static_cast<Choice>(i);
  }
  return std::nullopt;
}

template const std::vector<std::string>& words_of<Turn>();
template const std::vector<std::string>& words_of<Face>();
template const std::vector<std::string>& words_of<Role>();
template const std::vector<std::string>& words_of<Fixing>();
template const std::vector<std::string>& words_of<MarkOn>();
template const std::vector<std::string>& words_of<Origin>();
template const std::vector<std::string>& words_of<Between>();
template const std::vector<std::string>& words_of<ValveSide>();
template const std::vector<std::string>& words_of<LiftLaw>();
template const std::vector<std::string>& words_of<CrownShape>();
template const std::vector<std::string>& words_of<LiftAtPart>();
template const std::vector<std::string>& words_of<Holds>();
template const std::vector<std::string>& words_of<BoltCondition>();
template const std::vector<std::string>& words_of<ThreadState>();
template const std::vector<std::string>& words_of<FaultKind>();
template const std::vector<std::string>& words_of<LastTurned>();
template const std::vector<std::string>& words_of<SeenAgain>();
template const std::vector<std::string>& words_of<PinFelt>();
template std::optional<Turn> from_word<Turn>(std::string_view);
template std::optional<Face> from_word<Face>(std::string_view);
template std::optional<Role> from_word<Role>(std::string_view);
template std::optional<Fixing> from_word<Fixing>(std::string_view);
template std::optional<MarkOn> from_word<MarkOn>(std::string_view);
template std::optional<Origin> from_word<Origin>(std::string_view);
template std::optional<Between> from_word<Between>(std::string_view);
template std::optional<ValveSide> from_word<ValveSide>(std::string_view);
template std::optional<LiftLaw> from_word<LiftLaw>(std::string_view);
template std::optional<CrownShape> from_word<CrownShape>(std::string_view);
template std::optional<LiftAtPart> from_word<LiftAtPart>(std::string_view);
template std::optional<Holds> from_word<Holds>(std::string_view);
template std::optional<BoltCondition> from_word<BoltCondition>(std::string_view);
template std::optional<ThreadState> from_word<ThreadState>(std::string_view);
template std::optional<FaultKind> from_word<FaultKind>(std::string_view);
template std::optional<LastTurned> from_word<LastTurned>(std::string_view);
template std::optional<SeenAgain> from_word<SeenAgain>(std::string_view);
template std::optional<PinFelt> from_word<PinFelt>(std::string_view);

}  // namespace twoturn
