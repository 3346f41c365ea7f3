#include "twoturn/write/document.hpp"
#include "twoturn/write/text.hpp"

#include <fmt/format.h>

#include "document_parts.hpp"
#include "twoturn/base/numbers.hpp"
#include "words/sentences.hpp"

namespace twoturn {
namespace {

std::string_view word(PictureKind kind) {
  switch (kind) {
    case PictureKind::belt_end:
      return "belt end";
    case PictureKind::threading:
      return "threading";
    case PictureKind::true_size:
      return "true size";
    case PictureKind::degree_wheel:
      return "degree wheel";
    case PictureKind::belt_strip:
      return "belt strip";
  }
  return "";
}

std::string_view advice(PictureKind kind) {
  switch (kind) {
    case PictureKind::belt_end:
      return "Any browser opens it; it prints on A4.";
    case PictureKind::threading:
      return "NOT TO SCALE: coordinates are missing, so only the order and the faces are shown.";
    case PictureKind::true_size:
    case PictureKind::degree_wheel:
    case PictureKind::belt_strip:
      break;
  }
  return "Print it at 100 %, not fitted to the page, and measure the bar of 100 mm first.";
}

}  // namespace

std::string draw_document(const Heading& heading, const PictureMade& made,
                          const CheckAnswer& answer) {
  documents::Json document = documents::head(heading);
  document["picture"] = std::string(word(made.kind));
  document["crank_deg"] = documents::number(made.crank_deg);
  document["path"] = made.path;
  document["bytes"] = made.bytes;
  document["pages"] = made.pages;
  document["verdict"] = word(answer.verdict);
  document["headline"] = answer.headline;
  document["findings"] = documents::findings(answer.findings);
  return documents::printed(document);
}

std::string draw_text(const PictureMade& made, const CheckAnswer& answer) {
  const std::string pages =
      made.pages == 1 ? "" : fmt::format(", {}", counted(made.pages, "page", "pages"));
  return sentences::wrapped(fmt::format("Written: {}{}. {}", made.path, pages, advice(made.kind))) +
         "\n" + sentences::wrapped(answer.headline) + "\n";
}

}  // namespace twoturn
