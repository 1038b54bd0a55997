// SPDX-License-Identifier: MIT
#pragma once

#include "app/panels/run_values.h"
#include "app/window/theme.h"

#include <QByteArray>
#include <QSettings>
#include <QStringList>

namespace touchmark::window {

/// What is remembered between sittings. One row a value; nothing else reads QSettings.
class Settings {
public:
    /// `file`: where; empty: the user's own place.
    explicit Settings(const QString& file = {});

    [[nodiscard]] QStringList recent() const; ///< newest first, those that still exist
    void add_recent(const QString& file);
    [[nodiscard]] QString folder() const; ///< where a file was last opened or saved
    void set_folder(const QString& folder);
    [[nodiscard]] Appearance appearance() const;
    void set_appearance(Appearance appearance);
    [[nodiscard]] QByteArray geometry() const;
    void set_geometry(const QByteArray& geometry);
    [[nodiscard]] QByteArray panes() const;
    void set_panes(const QByteArray& panes);
    [[nodiscard]] panels::RunFigures run() const; ///< that the marks' cost is reckoned with
    void set_run(const panels::RunFigures& run);

private:
    mutable QSettings store_;
};

} // namespace touchmark::window
