#pragma once

#include <string>

namespace twoturn {

/// A page of HTML that stands alone in one file and fetches nothing. `title` is any text; the
/// others are what they say and go in as they are.
struct HtmlPage {
  std::string title;
  std::string css{};   ///< after the shell's own: system fonts, black on white, A4, narrow screens
  std::string body{};  ///< what stands in <body>
  std::string script{};  ///< empty: the page refuses to run any
};

/// The whole file. Characters that HTML cannot hold come out as spaces.
std::string html_page(const HtmlPage& page);

}  // namespace twoturn
