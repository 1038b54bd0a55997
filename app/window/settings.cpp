// SPDX-License-Identifier: MIT
#include "app/window/settings.h"

#include <QDir>
#include <QFileInfo>

namespace touchmark::window {
namespace {
constexpr int remembered_files = 8;
}

Settings::Settings(const QString& file)
    : store_(file.isEmpty() ? QSettings().fileName() : file, QSettings::IniFormat) {}

QStringList Settings::recent() const {
    QStringList files = store_.value("recent").toStringList();
    files.removeIf([](const QString& file) { return !QFileInfo::exists(file); });
    return files;
}

void Settings::add_recent(const QString& file) {
    QStringList files = recent();
    files.removeAll(file);
    files.prepend(file);
    store_.setValue("recent", QStringList(files.mid(0, remembered_files)));
}

QString Settings::folder() const {
    return store_.value("folder", QDir::homePath()).toString();
}
void Settings::set_folder(const QString& folder) {
    store_.setValue("folder", folder);
}
Appearance Settings::appearance() const {
    return appearance_from(store_.value("appearance").toString());
}
void Settings::set_appearance(Appearance appearance) {
    store_.setValue("appearance", key_of(appearance));
}
QByteArray Settings::geometry() const {
    return store_.value("window/geometry").toByteArray();
}
void Settings::set_geometry(const QByteArray& geometry) {
    store_.setValue("window/geometry", geometry);
}
QByteArray Settings::panes() const {
    return store_.value("window/panes").toByteArray();
}
void Settings::set_panes(const QByteArray& panes) {
    store_.setValue("window/panes", panes);
}

} // namespace touchmark::window
