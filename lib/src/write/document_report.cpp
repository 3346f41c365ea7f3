#include "document_parts.hpp"
#include "twoturn/write/document.hpp"

namespace twoturn {

std::string report_document(const ReportAnswer& report, const std::string& path,
                            std::size_t bytes) {
  documents::Json document = documents::head(report.heading);
  document["path"] = path;
  document["bytes"] = bytes;
  document["verdict"] = word(report.check.verdict);
  document["headline"] = report.check.headline;
  document["moves"] = report.motion.has_value();
  document["findings"] = documents::findings(report.check.findings);
  return documents::printed(document);
}

}  // namespace twoturn
