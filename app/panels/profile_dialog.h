// SPDX-License-Identifier: MIT
#pragma once

#include "app/session/profile_shelf.h"
#include "app/session/session.h"

#include <QDialog>

class QLabel;
class QLineEdit;
class QListWidget;
class QPushButton;

namespace touchmark::panels {

class Combo;
class FigureCard;
class FigureLedger;

/// "Process profiles": every figure of every profile with where it comes from. A change of one that comes along becomes
/// a profile of the user's own, which can be changed further, renamed and deleted. Stays open beside the window.
class ProfileDialog : public QDialog {
    Q_OBJECT

public:
    ProfileDialog(session::Session& session, session::ProfileShelf& shelf, QWidget* parent);
    void show_profile(const std::string& id);
    [[nodiscard]] const std::string& shown() const { return id_; }

signals:
    /// The job is to be printed with it.
    void use_asked(const std::string& id);

protected:
    void showEvent(QShowEvent* event) override;

private:
    void build();
    [[nodiscard]] QWidget* build_list();
    [[nodiscard]] QWidget* build_middle();
    void refresh_list();
    void refresh_profile();
    void refresh_figure();
    void keep(const process::Adjustment& adjustment);
    void keep_wedge(const std::vector<process::WedgeStep>& steps, const std::string& source);
    void back(const std::string& key);
    void store(const process::Derivation& derivation, const QString& done);
    void make_own();
    void rename();
    void remove();
    void bring_back();
    void say(const QString& message, bool offer_back = false);
    [[nodiscard]] const process::Profile& profile() const;
    [[nodiscard]] const process::Process* base() const;
    /// What the profile shown is to be changed from: its own file's, or a new one on it.
    [[nodiscard]] process::Derivation derivation() const;

    session::Session& session_;
    session::ProfileShelf& shelf_;
    std::string id_;
    bool filling_ = false;
    QListWidget* list_;
    QLineEdit *title_, *filter_;
    QLabel *about_, *message_;
    Combo* show_;
    FigureLedger* ledger_;
    FigureCard* card_;
    QPushButton *use_, *own_, *remove_, *bring_back_;
    QWidget* message_row_;
};

} // namespace touchmark::panels
