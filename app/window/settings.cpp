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

panels::RunFigures Settings::run() const {
    panels::RunFigures run;
    run.units = std::max<qint64>(1, store_.value("run/units", run.units).toLongLong());
    run.unit_cost = std::max(0.0, store_.value("run/unit_cost").toDouble());
    run.machine_hour = std::max(0.0, store_.value("run/machine_hour").toDouble());
    run.rates_file = store_.value("run/rates").toString();
    return run;
}
void Settings::set_run(const panels::RunFigures& run) {
    store_.setValue("run/units", run.units);
    store_.setValue("run/unit_cost", run.unit_cost);
    store_.setValue("run/machine_hour", run.machine_hour);
    store_.setValue("run/rates", run.rates_file);
}

} // namespace touchmark::window
