// SPDX-License-Identifier: MIT
#include "app/window/settings.h"

#include <QFile>
#include <QTemporaryDir>
#include <gtest/gtest.h>

namespace touchmark::window {
namespace {

TEST(Settings, AreThereAgainInTheNextSitting) {
    const QTemporaryDir folder;
    const QString file = folder.filePath("settings.ini");
    {
        Settings settings(file);
        EXPECT_EQ(settings.appearance(), Appearance::system);
        settings.set_appearance(Appearance::dark);
        settings.set_folder("/somewhere");
        settings.set_geometry("shape");
        EXPECT_EQ(settings.run().units, 1000);
        settings.set_run({.units = 250'000, .unit_cost = 1.9, .machine_hour = 4, .rates_file = "/hall-3.json"});
    }
    const Settings settings(file);
    EXPECT_EQ(settings.appearance(), Appearance::dark);
    EXPECT_EQ(settings.folder(), "/somewhere");
    EXPECT_EQ(settings.geometry(), "shape");
    EXPECT_EQ(settings.run().units, 250'000);
    EXPECT_EQ(settings.run().unit_cost, 1.9);
    EXPECT_EQ(settings.run().machine_hour, 4);
    EXPECT_EQ(settings.run().rates_file, "/hall-3.json");
}

TEST(Settings, RecentFilesAreNewestFirstOnceAndOnlyThoseThatExist) {
    const QTemporaryDir folder;
    Settings settings(folder.filePath("settings.ini"));
    QStringList files;
    for (int i = 0; i < 12; ++i) {
        files << folder.filePath(QString("part %1.step").arg(i));
        QFile file(files.back());
        ASSERT_TRUE(file.open(QIODevice::WriteOnly));
        settings.add_recent(files.back());
    }
    settings.add_recent(files[6]);
    const QStringList recent = settings.recent();
    EXPECT_EQ(recent.size(), 8);
    EXPECT_EQ(recent[0], files[6]);
    EXPECT_EQ(recent[1], files[11]);
    EXPECT_EQ(recent.count(files[6]), 1);
    QFile::remove(files[11]);
    EXPECT_FALSE(settings.recent().contains(files[11]));
}

} // namespace
} // namespace touchmark::window
