#include <algorithm>

#include "document_parts.hpp"
#include "twoturn/write/document.hpp"

namespace twoturn {
namespace {

std::string word(SpreadLaw law) {
  switch (law) {
    case SpreadLaw::normal:
      return "normal";
    case SpreadLaw::uniform:
      return "uniform";
    case SpreadLaw::limits:
      return "limits";
  }
  return "";
}

}  // namespace

std::string spread_document(const Heading& heading, const SpreadAnswer& answer) {
  using documents::Json;
  using documents::number;
  const TensionerKind kind = answer.kind.value_or(TensionerKind::slide);
  const auto key = [kind](const char* stem) { return in_unit(stem, kind); };
  const auto samples = static_cast<double>(std::max(1LL, answer.samples));
  Json counts = Json::array();
  for (const auto& [teeth, times] : answer.counts) {
    counts.push_back({{"teeth", teeth}, {"share", number(static_cast<double>(times) / samples)}});
  }
  Json bins = Json::array();
  for (const SpreadBin& bin : answer.bins) {
    bins.push_back({{key("from"), number(bin.from)},
                    {key("to"), number(bin.to)},
                    {"share", number(static_cast<double>(bin.count) / samples)}});
  }
  Json shares = Json::array();
  for (const SpreadShare& share : answer.shares) {
    shares.push_back({{"key", share.key}, {"share", number(share.share)}});
  }
  Json document = documents::head(heading);
  document["samples"] = answer.samples;
  document["samples_asked"] = answer.question.samples;
  document["seed"] = answer.question.seed;
  document["law"] = word(answer.question.law);
  document["of"] = answer.kind ? "the tensioner's reading" : "what the belt is too long";
  document["belt_teeth"] = number(answer.belt_teeth);
  document["not_assembled_share"] = number(static_cast<double>(answer.not_assembled) / samples);
  document[key("nominal")] = number(answer.nominal);
  document[key("mean")] = number(answer.reading.mean);
  document[key("deviation")] = number(answer.reading.deviation);
  document[key("linear_deviation")] = number(answer.reading.linear_deviation);
  document[key("low")] = number(answer.reading.low);
  document[key("middle")] = number(answer.reading.middle);
  document[key("high")] = number(answer.reading.high);
  document["counts"] = std::move(counts);
  document["bins"] = std::move(bins);
  document["shares"] = std::move(shares);
  document["path_evaluations"] = number(answer.path_evaluations);
  document["missing"] = documents::missing(heading.missing);
  return documents::printed(document);
}

}  // namespace twoturn
