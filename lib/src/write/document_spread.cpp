#include <algorithm>

#include "document_parts.hpp"
#include "twoturn/write/document.hpp"
#include "words/sentences_spread.hpp"

namespace twoturn {
namespace {

using documents::Json;
using documents::number;
using sentences::word;

Json shares_of(const std::vector<SpreadShare>& shares) {
  Json list = Json::array();
  for (const SpreadShare& share : shares) {
    list.push_back({{"key", share.key}, {"share", number(share.share)}});
  }
  return list;
}

Json laws_of(const SpreadQuestion& question) {
  Json laws = Json::array();
  for (const auto& [key, law] : question.laws) laws.push_back({{"key", key}, {"law", word(law)}});
  return laws;
}

Json errors_of(const SpreadAnswer& answer) {
  Json list = Json::array();
  for (const SpreadError& one : answer.errors) {
    list.push_back({{"shaft", one.shaft},
                    {"spreads", one.spreads},
                    {"nominal_crank_deg", number(one.nominal)},
                    {"mean_crank_deg", number(one.error.mean)},
                    {"deviation_crank_deg", number(one.error.deviation)},
                    {"linear_deviation_crank_deg", number(one.error.linear_deviation)},
                    {"low_crank_deg", number(one.error.low)},
                    {"middle_crank_deg", number(one.error.middle)},
                    {"high_crank_deg", number(one.error.high)},
                    {"shares", shares_of(one.shares)}});
  }
  return list;
}

}  // namespace

std::string spread_document(const Heading& heading, const SpreadAnswer& answer) {
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
  Json document = documents::head(heading);
  document["samples"] = answer.samples;
  document["samples_asked"] = answer.question.samples;
  document["seed"] = answer.question.seed;
  document["law"] = word(answer.question.law);
  document["laws"] = laws_of(answer.question);
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
  document["shares"] = shares_of(answer.shares);
  document["errors"] = errors_of(answer);
  document["error_samples"] = answer.error_samples;
  document["path_evaluations"] = number(answer.path_evaluations);
  document["missing"] = documents::missing(heading.missing);
  return documents::printed(document);
}

}  // namespace twoturn
