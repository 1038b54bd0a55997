// SPDX-License-Identifier: MIT
#include "app/panels/profile_dialog.h"
#include "app/window/process_menu.h"
#include "tests/app/window/bench.h"

#include <QMenu>
#include <QPushButton>
#include <fstream>

namespace touchmark::test {
namespace {

/// The window with every profile that comes along, and a folder for one's own.
class ProcessMenu : public Bench {
protected:
    void SetUp() override {
        std::filesystem::create_directories(own());
        std::ofstream(own() / "own-broken.json") << "{";
        window = std::make_unique<window::MainWindow>(
            window::MainWindow::Options{.parts = session_parts(),
                                        .settings_file = folder.filePath("settings.ini"),
                                        .built_in = process::load_built_in(TOUCHMARK_RESOURCES).value(),
                                        .own_profiles = own()});
        window->resize(1280, 720);
        window->show();
        ASSERT_TRUE(QTest::qWaitForWindowExposed(window.get()));
    }
    [[nodiscard]] std::filesystem::path own() const { return file("processes"); }
    [[nodiscard]] QMenu& menu() const { return window->actions().menu("Part/Process"); }
    [[nodiscard]] QAction* item(const std::string& id) const {
        for (QAction* action : window->actions().all())
            if (action->data().toString().toStdString() == id) return action;
        return nullptr;
    }
    [[nodiscard]] QStringList titles() const {
        QStringList out;
        for (const QAction* action : menu().actions())
            out += action->text();
        return out;
    }
};

TEST_F(ProcessMenu, GoesByNozzleAndMaterialAndChoosesForTheJob) {
    open(demo_part());
    EXPECT_TRUE(titles().contains("0.4 mm nozzle"));
    EXPECT_TRUE(titles().contains("Other processes"));
    EXPECT_EQ(titles().back(), "Process profiles …");
    EXPECT_LE(menu().actions().size(), 10) << "not a list of all of them";
    QAction* petg = item("fff-0.4-petg");
    ASSERT_NE(petg, nullptr) << "the list of actions finds it";
    EXPECT_EQ(petg->text(), "PETG");
    EXPECT_EQ(petg->toolTip(), "Extrusion, 0.4 mm nozzle, PETG");
    EXPECT_TRUE(item("fff-0.4")->isChecked());
    petg->trigger();
    EXPECT_EQ(session().job().process, "fff-0.4-petg");
    EXPECT_TRUE(petg->isChecked());
    EXPECT_FALSE(item("fff-0.4")->isChecked());
    for (const QAction* action : menu().actions())
        if (action->menu()) {
            EXPECT_EQ(action->isChecked(), action->text() == "0.4 mm nozzle") << action->text().toStdString();
        }
    session().history().undo();
    EXPECT_TRUE(item("fff-0.4")->isChecked());
}

TEST_F(ProcessMenu, NamesWhatItLeftOutAndOffersWhatIsKeptAtOnce) {
    EXPECT_TRUE(window->banner().message().contains("left out"));
    open(demo_part());
    EXPECT_TRUE(window->banner().message().contains("left out")) << "nobody has closed it yet";
    window->actions()["profiles"].trigger();
    auto* dialog = window->findChild<panels::ProfileDialog*>();
    ASSERT_NE(dialog, nullptr);
    for (QPushButton* button : dialog->findChildren<QPushButton*>())
        if (button->text() == "New from this") button->click();
    ASSERT_NE(item("own-0.4-mm-nozzle"), nullptr);
    item("own-0.4-mm-nozzle")->trigger();
    EXPECT_EQ(session().job().process, "own-0.4-mm-nozzle");
    settle();
    EXPECT_EQ(session().process().title, "Own 0.4 mm nozzle");
    for (QPushButton* button : dialog->findChildren<QPushButton*>())
        if (button->text() == "Delete") button->click();
    EXPECT_EQ(session().job().process, "fff-0.4");
    EXPECT_EQ(item("own-0.4-mm-nozzle"), nullptr);
}

TEST_F(ProcessMenu, SaysThatWhatIsNotExtrusionIsNotPrintedInSimulation) {
    open(demo_part());
    const job::Mark mark = mark_on_side_wall(session(), "A-17");
    ASSERT_TRUE(session().edit("New mark", [mark](const job::Job& job) { return job::add_mark(job, mark); }));
    item("vat-resin")->trigger();
    settle();
    window->actions()["as_printed"].trigger();
    EXPECT_TRUE(window->banner().message().contains("for extrusion only")) << window->banner().message().toStdString();
    EXPECT_FALSE(window->actions()["as_printed"].isChecked()) << "nothing is shown as it prints";
    item("fff-0.4")->trigger();
    window->actions()["as_printed"].trigger();
    EXPECT_TRUE(window->actions()["as_printed"].isChecked());
    item("powder-pa12")->trigger();
    EXPECT_FALSE(window->actions()["as_printed"].isChecked());
    window->actions()["print_window"].trigger();
    settle();
}

} // namespace
} // namespace touchmark::test
