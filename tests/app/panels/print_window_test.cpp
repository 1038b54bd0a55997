// SPDX-License-Identifier: MIT
#include "app/panels/print_window.h"

#include "app/panels/printed_picture.h"
#include "tests/app/session/opened.h"
#include "tests/app/support/application.h"

#include <QComboBox>
#include <QSlider>
#include <QTabBar>
#include <QTableWidget>
#include <gtest/gtest.h>

namespace touchmark::panels {
namespace {

class PrintWindowOnDemo : public testing::Test {
protected:
    void SetUp() override {
        ASSERT_TRUE(test::open_and_wait(session, test::demo_part()));
        job::Mark mark = test::mark_on_side_wall(session, "AB-17");
        std::get<content::Text>(mark.content).cap_height = Mm(1.5);
        ASSERT_TRUE(session.edit("New mark", [mark](const job::Job& job) { return job::add_mark(job, mark); }));
        ASSERT_TRUE(test::wait_until([&] { return session.evaluation_is_final(); }));
        window.show();
        ASSERT_TRUE(QTest::qWaitForWindowExposed(&window));
    }
    [[nodiscard]] QImage picture() const {
        auto* shown = window.findChild<PrintedPicture*>();
        return shown->grab().toImage().convertToFormat(QImage::Format_RGB32);
    }
    session::Session session{test::session_parts()};
    PrintWindow window{session};
};

int count(const QImage& image, QRgb colour) {
    int found = 0;
    for (int y = 0; y < image.height(); ++y)
        for (int x = 0; x < image.width(); ++x)
            found += (image.pixel(x, y) & 0xffffff) == (colour & 0xffffff);
    return found;
}

TEST_F(PrintWindowOnDemo, ShowsWhatWasLostAndTheLettersTheWorstFirst) {
    const auto& lost = print::lost_colour;
    EXPECT_TRUE(test::wait_until([&] { return count(picture(), qRgb(lost[0], lost[1], lost[2])) > 50; }));
    const auto* letters = window.findChild<QTableWidget*>();
    ASSERT_EQ(letters->rowCount(), 5);
    const auto& pieces = session.evaluation()->marks[0].printed->pieces;
    const auto worst = std::ranges::min_element(pieces, {}, [](const auto& piece) { return piece.fidelity.figure(); });
    EXPECT_EQ(letters->item(0, 0)->text().toStdString(), worst->label);
    EXPECT_TRUE(letters->item(0, 0)->font().bold());
}

TEST_F(PrintWindowOnDemo, EveryLayerCanBeLookedAt) {
    auto* tabs = window.findChild<QTabBar*>();
    auto* slider = window.findChild<QSlider*>();
    tabs->setCurrentIndex(1);
    // 1.5 mm in layers of 0.2: seven or eight, and one that hangs over the notches.
    ASSERT_TRUE(test::wait_until([&] { return slider->maximum() >= 6; }));
    EXPECT_LE(slider->maximum(), 9);
    slider->setValue(0);
    const QImage lowest = picture();
    slider->setValue(slider->maximum() / 2);
    EXPECT_NE(picture(), lowest);
}

TEST_F(PrintWindowOnDemo, TheLightCanBeChosen) {
    window.findChild<QTabBar*>()->setCurrentIndex(2);
    auto* light = window.findChild<QComboBox*>();
    ASSERT_TRUE(test::wait_until([&] { return light->isVisible() && light->count() > 1; }));
    EXPECT_TRUE(test::wait_until([&] { return light->width() >= light->sizeHint().width(); }));
}

TEST_F(PrintWindowOnDemo, FollowsAnEdit) {
    const auto* letters = window.findChild<QTableWidget*>();
    const std::string id = session.job().marks[0].id;
    ASSERT_TRUE(session.edit("Text", [id](const job::Job& job) {
        job::Job next = job;
        std::get<content::Text>(next.marks[0].content).text = "LMN";
        return Result<job::Job>(next);
    }));
    EXPECT_TRUE(test::wait_until([&] { return session.evaluation_is_final() && letters->rowCount() == 3; }));
}

} // namespace
} // namespace touchmark::panels
