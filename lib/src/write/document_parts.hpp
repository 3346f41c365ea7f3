// Pieces of documents that several answers share.
#pragma once

#include <nlohmann/json.hpp>
#include <optional>
#include <string>
#include <vector>

#include "twoturn/drive/place_answer.hpp"
#include "twoturn/drive/teeth_answer.hpp"
#include "twoturn/study/bolts_answer.hpp"
#include "twoturn/study/check_answer.hpp"
#include "twoturn/study/no_answer.hpp"
#include "twoturn/timing/turns_answer.hpp"

namespace twoturn::documents {

using Json = nlohmann::ordered_json;

/// A number that round-trips: -0 as 0; null for what is not finite.
Json number(double value);
Json number(const std::optional<double>& value);
Json number(const std::optional<int>& value);
Json point(const Vec2& point_mm);

/// Command, profile, fit.
Json head(const Heading& heading);
Json missing(const std::vector<Missing>& missing);
/// How far off an answer may be, under a key with its unit, and the key that contributes most.
Json unsure(const Unsure& unsure, TensionerKind kind);
Json refusals(const std::vector<NamedRefusal>& refused);
Json setting(const Setting& setting);
Json setting(const std::optional<Setting>& setting);
Json paint(const Paint& paint);
Json between_marks(const std::vector<BetweenMarks>& counts);

Json findings(const std::vector<Finding>& findings);
/// The whole document of a check, for documents that hold one.
Json check(const Heading& heading, const CheckAnswer& answer);

/// Everything an answer holds, as the command of its name gives it, put into a document.
void add_route(const Drive& drive, const RouteAnswer& answer, Json& document);
void add_teeth(const Drive& drive, const TeethAnswer& answer, Json& document);
void add_tensioner(const Drive& drive, const TensionerAnswer& answer, Json& document);
void add_turns(const TurnsAnswer& answer, Json& document);

/// Forces, as their commands give them; feel without its steps.
Json feel(const FeelAnswer& answer);
Json tension(const TensionAnswer& answer);

/// Bolts, group by group, as the command of that name gives them.
Json bolt_groups(const std::vector<BoltGroup>& groups);

/// Measured centres, as the command of that name gives them.
Json places(const MeasuredPlaces& places);

/// Pistons, compression, valves and park, as far as they go.
Json engine(const EngineAnswers& engine);
Json compression(const CompressionAnswer& answer);

/// The key of a reading: "at_deg" or "at_mm".
/// What the readings of a drive's tensioner are in; of fixed centres mm.
TensionerKind kind(const Drive& drive);

/// The document as text, with a newline at its end.
std::string printed(const Json& document);

}  // namespace twoturn::documents
