// SPDX-License-Identifier: MIT
#include "tests/app/tools/bench.h"

#include <QTest>

#include <algorithm>

namespace touchmark {
namespace {

class FindingSpotsTool : public test::ToolBench {
protected:
    /// A mark so small that its strokes are too thin, whatever the process; the finding's index.
    std::size_t thin_strokes() {
        add_mark();
        content::Text small = std::get<content::Text>(mark().content);
        small.cap_height = Mm(1.2);
        EXPECT_TRUE(session->edit(
            "Size", [this, small](const job::Job& job) { return job::set_content(job, mark().id, small); }));
        settle();
        const auto& findings = session->evaluation()->findings;
        const auto found = std::ranges::find(findings, "stroke_width", &rules::Finding::rule);
        EXPECT_NE(found, findings.end());
        return static_cast<std::size_t>(found - findings.begin());
    }
};

TEST_F(FindingSpotsTool, GoesToTheSpotAndCirclesIt) {
    const std::size_t index = thin_strokes();
    const Vec3 spot = session->evaluation()->findings[index].where_on_part.front();
    const double before = viewport->pixels_per_mm(spot);
    session->select_finding(index);
    viewport->arrive();
    const QPointF at = viewport->to_widget(spot);
    EXPECT_NEAR(at.x(), viewport->width() / 2.0, 1);
    EXPECT_NEAR(at.y(), viewport->height() / 2.0, 1);
    EXPECT_GT(viewport->pixels_per_mm(spot), before * 2);
    const QImage circled = viewport->grab_image();
    const QColor accent = viewport->accent();
    int painted = 0;
    for (int x = 0; x < circled.width(); ++x)
        painted += circled.pixelColor(x, circled.height() / 2) == accent ? 1 : 0;
    EXPECT_GE(painted, 2) << "the circle crosses the line through its middle twice";
}

TEST_F(FindingSpotsTool, StaysWhereItIsWhenNothingIsSelected) {
    const std::size_t index = thin_strokes();
    session->select_finding(index);
    viewport->arrive();
    const QPointF at = viewport->to_widget({});
    session->select_finding(std::nullopt);
    viewport->arrive();
    EXPECT_EQ(viewport->to_widget({}), at);
}

} // namespace
} // namespace touchmark
