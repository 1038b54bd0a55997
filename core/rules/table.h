// SPDX-License-Identifier: MIT
#pragma once

#include "core/rules/rule.h"

/// The functions behind the rows of table.cpp, each in the file of its name.
namespace touchmark::rules {

/// Every rule, or one, on one mark and the worst of its units.
[[nodiscard]] std::vector<Finding> judge_mark(Context& context, std::size_t mark);
[[nodiscard]] std::vector<Finding> judge_mark_by(Context& context, std::size_t mark, std::string_view rule);

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
void judge_islands(const Context& context, std::size_t mark, std::vector<Finding>& findings);
void judge_island_heat(const Context& context, std::size_t mark, std::vector<Finding>& findings);
void judge_whole_layers(const Context& context, std::size_t mark, std::vector<Finding>& findings);
void judge_stair_steps(const Context& context, std::size_t mark, std::vector<Finding>& findings);
void judge_ledge(const Context& context, std::size_t mark, std::vector<Finding>& findings);
void judge_wrap(const Context& context, std::size_t mark, std::vector<Finding>& findings);
void judge_code_module(const Context& context, std::size_t mark, std::vector<Finding>& findings);
void judge_code_relief(const Context& context, std::size_t mark, std::vector<Finding>& findings);
void judge_lookalikes(const Context& context, std::size_t mark, std::vector<Finding>& findings);
void judge_upside_down(const Context& context, std::size_t mark, std::vector<Finding>& findings);
void judge_reading_distance(const Context& context, std::size_t mark, std::vector<Finding>& findings);
void judge_kept_clear(const Context& context, std::size_t mark, std::vector<Finding>& findings);
void judge_notch(const Context& context, std::size_t mark, std::vector<Finding>& findings);
void judge_part_notes(const part::Part& part, std::vector<Finding>& findings);

} // namespace touchmark::rules
