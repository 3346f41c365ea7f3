#pragma once

#include <string>

#include "twoturn/study/starter_drive.hpp"

namespace twoturn {

/// The starter's questions as a page of HTML to print and fill in at the engine, with small
/// sketches of what is measured where; the same questions and numbers as `starter_paper`.
std::string paper_html(const StarterAnswer& starter);

}  // namespace twoturn
