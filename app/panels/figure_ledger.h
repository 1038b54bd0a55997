// SPDX-License-Identifier: MIT
#pragma once

#include "core/process/profiles.h"

#include <QListWidget>

namespace touchmark::panels {

/// "0.42 mm", "135°": all digits, for what is looked up and compared.
[[nodiscard]] QString figure_words(double value, std::string_view unit);
/// The source as a sentence; says "Assumed" where the figure is and the source does not begin with it.
[[nodiscard]] QString source_words(const process::Sourced& figure);
/// What a row of the ledger is called: "Engrave, side wall: will not print below", "Bead spread".
[[nodiscard]] QString figure_title(std::string_view key);

/// Stands in the ledger for the steps of the wedge, which are no figure.
inline constexpr std::string_view wedge_key = "printing.wedge";

/// Every figure of a profile under its heading: what it is, its value, where it comes from; what is assumed by a hollow
/// ring, what differs from the base by a bar and the base's value.
class FigureLedger : public QListWidget {
    Q_OBJECT

public:
    enum class Show { all, assumed, differing };

    explicit FigureLedger(QWidget* parent = nullptr);
    /// `base`: what it stands on; null: by itself. Keeps the row that was chosen when the profile still has it.
    void show_profile(const process::Process& process, const process::Process* base);
    void narrow(const QString& words, Show show);
    [[nodiscard]] std::string chosen() const; ///< a key; empty: none
    void choose(std::string_view key);

signals:
    void figure_chosen(const std::string& key);

private:
    struct Row {
        std::string key, group, part; ///< part: the heading below the group's, for limits
        QString title, value, source, base, searched;
        bool assumed = false, differs = false, sourced = true;
    };
    void refill();
    void add_heading(const QString& words, int level);
    [[nodiscard]] Row row_of(std::string_view key, const process::Process& process, const process::Process* base) const;
    [[nodiscard]] Row wedge_row(const process::Process& process, const process::Process* base) const;
    [[nodiscard]] bool wanted(const Row& row) const;

    std::vector<Row> rows_;
    QStringList words_;
    Show show_ = Show::all;
    std::string chosen_;
    bool filling_ = false;
};

} // namespace touchmark::panels
