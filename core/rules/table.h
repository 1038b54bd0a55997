// SPDX-License-Identifier: MIT
#pragma once

#include "core/rules/rule.h"

/// The functions behind the rows of table.cpp, each in the file of its name.
namespace touchmark::rules {

void judge_content(const Context& context, std::size_t mark, std::vector<Finding>& findings);
void judge_left_out(const Context& context, std::size_t mark, std::vector<Finding>& findings);
void judge_missing_characters(const Context& context, std::size_t mark, std::vector<Finding>& findings);
void judge_stroke_width(const Context& context, std::size_t mark, std::vector<Finding>& findings);
void judge_gap_width(const Context& context, std::size_t mark, std::vector<Finding>& findings);
void judge_depth(const Context& context, std::size_t mark, std::vector<Finding>& findings);
void judge_zone(const Context& context, std::size_t mark, std::vector<Finding>& findings);
void judge_leaves_face(const Context& context, std::size_t mark, std::vector<Finding>& findings);
void judge_edge_margin(const Context& context, std::size_t mark, std::vector<Finding>& findings);
void judge_quiet_zone(const Context& context, std::size_t mark, std::vector<Finding>& findings);
void judge_stretch(const Context& context, std::size_t mark, std::vector<Finding>& findings);
void judge_overlap(const Context& context, std::size_t mark, std::vector<Finding>& findings);
void judge_bridge_width(const Context& context, std::size_t mark, std::vector<Finding>& findings);
void judge_remaining_wall(const Context& context, std::size_t mark, std::vector<Finding>& findings);
void judge_cover(const Context& context, std::size_t mark, std::vector<Finding>& findings);
void judge_draft(const Context& context, std::size_t mark, std::vector<Finding>& findings);
void judge_opening(const Context& context, std::size_t mark, std::vector<Finding>& findings);
void judge_simulated_print(const Context& context, std::size_t mark, std::vector<Finding>& findings);
void judge_code_reading(const Context& context, std::size_t mark, std::vector<Finding>& findings);
void judge_light(const Context& context, std::size_t mark, std::vector<Finding>& findings);
void judge_part_notes(const part::Part& part, std::vector<Finding>& findings);

} // namespace touchmark::rules
