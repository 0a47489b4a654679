<?xml version="1.0" encoding="utf-8"?>
<!DOCTYPE TS>
<TS version="2.1" language="de" sourcelanguage="en">
 <context>
  <name>weightshare</name>
  <message>
   <source> % of body weight</source>
   <translation> % des Körpergewichts</translation>
  </message>
  <message>
   <source> and </source>
   <translation> und </translation>
  </message>
  <message>
   <source> by {made_by}</source>
   <translation> von {made_by}</translation>
  </message>
  <message>
   <source> or </source>
   <translation> oder </translation>
  </message>
  <message>
   <source> over {days} days</source>
   <translation> über {days} Tage</translation>
  </message>
  <message>
   <source> points</source>
   <translation> Punkte</translation>
  </message>
  <message>
   <source>% of body weight</source>
   <translation>% des Körpergewichts</translation>
  </message>
  <message>
   <source>% of range</source>
   <translation>% des Bereichs</translation>
  </message>
  <message>
   <source>&amp;About</source>
   <translation>&amp;Info</translation>
  </message>
  <message>
   <source>&amp;Add a patient …</source>
   <translation>Person &amp;anlegen …</translation>
  </message>
  <message>
   <source>&amp;Add a stage</source>
   <translation>Stufe &amp;anlegen</translation>
  </message>
  <message>
   <source>&amp;Added weight</source>
   <translation>&amp;Zusatzgewicht</translation>
  </message>
  <message>
   <source>&amp;All figures, of both sides</source>
   <translation>&amp;Alle Größen, beider Seiten</translation>
  </message>
  <message>
   <source>&amp;Back  (Esc)</source>
   <translation>&amp;Zurück  (Esc)</translation>
  </message>
  <message>
   <source>&amp;Band</source>
   <translation>&amp;Bereich</translation>
  </message>
  <message>
   <source>&amp;Change what is known …</source>
   <translation>Anga&amp;ben ändern …</translation>
  </message>
  <message>
   <source>&amp;Code</source>
   <translation>&amp;Kürzel</translation>
  </message>
  <message>
   <source>&amp;Copy it as my own</source>
   <translation>Als eigenes &amp;kopieren</translation>
  </message>
  <message>
   <source>&amp;Copy this stage</source>
   <translation>Stufe &amp;kopieren</translation>
  </message>
  <message>
   <source>&amp;Dark</source>
   <translation>&amp;Dunkel</translation>
  </message>
  <message>
   <source>&amp;Decisions</source>
   <translation>&amp;Entscheide</translation>
  </message>
  <message>
   <source>&amp;Evidence</source>
   <translation>&amp;Nachweise</translation>
  </message>
  <message>
   <source>&amp;Finish its record</source>
   <translation>Aufzeichnung &amp;abschließen</translation>
  </message>
  <message>
   <source>&amp;Followed side</source>
   <translation>Beobachtete Se&amp;ite</translation>
  </message>
  <message>
   <source>&amp;Free this stage</source>
   <translation>Diese Stufe &amp;freigeben</translation>
  </message>
  <message>
   <source>&amp;Full raise</source>
   <translation>&amp;Volles Heben</translation>
  </message>
  <message>
   <source>&amp;Get started</source>
   <translation>&amp;Einrichten</translation>
  </message>
  <message>
   <source>&amp;Grace</source>
   <translation>&amp;Toleranzzeit</translation>
  </message>
  <message>
   <source>&amp;Hold goal</source>
   <translation>&amp;Halteziel</translation>
  </message>
  <message>
   <source>&amp;How well known</source>
   <translation>Wie genau be&amp;kannt</translation>
  </message>
  <message>
   <source>&amp;Injured</source>
   <translation>&amp;Verletzt</translation>
  </message>
  <message>
   <source>&amp;Injured or operated on</source>
   <translation>&amp;Verletzt oder operiert am</translation>
  </message>
  <message>
   <source>&amp;Language</source>
   <translation>&amp;Sprache</translation>
  </message>
  <message>
   <source>&amp;Latitude, degrees</source>
   <translation>B&amp;reitengrad</translation>
  </message>
  <message>
   <source>&amp;Look back</source>
   <translation>&amp;Rückblick</translation>
  </message>
  <message>
   <source>&amp;Look for</source>
   <translation>&amp;Suchen</translation>
  </message>
  <message>
   <source>&amp;Masses, kg</source>
   <translation>&amp;Massen, kg</translation>
  </message>
  <message>
   <source>&amp;More …</source>
   <translation>&amp;Mehr …</translation>
  </message>
  <message>
   <source>&amp;Name</source>
   <translation>&amp;Name</translation>
  </message>
  <message>
   <source>&amp;Newest first</source>
   <translation>&amp;Neueste zuerst</translation>
  </message>
  <message>
   <source>&amp;Number of holds</source>
   <translation>A&amp;nzahl Halten</translation>
  </message>
  <message>
   <source>&amp;Passphrase</source>
   <translation>&amp;Kennwort</translation>
  </message>
  <message>
   <source>&amp;Plates</source>
   <translation>&amp;Platten</translation>
  </message>
  <message>
   <source>&amp;Programme</source>
   <translation>&amp;Programm</translation>
  </message>
  <message>
   <source>&amp;Progress</source>
   <translation>&amp;Verlauf</translation>
  </message>
  <message>
   <source>&amp;Reason</source>
   <translation>Grun&amp;d</translation>
  </message>
  <message>
   <source>&amp;Remove this stage</source>
   <translation>Stufe &amp;entfernen</translation>
  </message>
  <message>
   <source>&amp;Repetitions</source>
   <translation>&amp;Wdh.</translation>
  </message>
  <message>
   <source>&amp;Rest between sets</source>
   <translation>&amp;Pause zwischen Sätzen</translation>
  </message>
  <message>
   <source>&amp;Sessions</source>
   <translation>&amp;Sitzungen</translation>
  </message>
  <message>
   <source>&amp;Signed</source>
   <translation>&amp;Unterschrieben</translation>
  </message>
  <message>
   <source>&amp;Sound off</source>
   <translation>T&amp;on aus</translation>
  </message>
  <message>
   <source>&amp;Sound on</source>
   <translation>T&amp;on an</translation>
  </message>
  <message>
   <source>&amp;Stages</source>
   <translation>&amp;Stufen</translation>
  </message>
  <message>
   <source>&amp;Target</source>
   <translation>&amp;Ziel</translation>
  </message>
  <message>
   <source>&amp;Working leg</source>
   <translation>Arbeitendes B&amp;ein</translation>
  </message>
  <message>
   <source>&amp;Worn on the feet</source>
   <translation>An den Füßen &amp;getragen</translation>
  </message>
  <message>
   <source>+ −: zoom   Left, Right: move   Up, Down: next repetition, hold or limit   0: all   , .: cursor   Esc: list</source>
   <translation>+ −: Zoom   Links, Rechts: verschieben   Auf, Ab: nächste Wiederholung, Halten oder Grenze   0: alles   , .: Zeiger   Esc: Liste</translation>
  </message>
  <message>
   <source>, and </source>
   <translation>, und </translation>
  </message>
  <message>
   <source>, and {count} more</source>
   <translation>, und {count} weitere</translation>
  </message>
  <message>
   <source>, at most {load}</source>
   <translation>, höchstens {load}</translation>
  </message>
  <message>
   <source>, up to {peak:.0f} N</source>
   <translation>, bis {peak:.0f} N</translation>
  </message>
  <message>
   <source>, valid until {valid_until}</source>
   <translation>, gültig bis {valid_until}</translation>
  </message>
  <message>
   <source>--basis force: on a step the load is on the forefoot all the time; take height or paced</source>
   <translation>--basis force: Auf einer Stufe liegt die Last die ganze Zeit auf dem Vorfuß; nehmen Sie Fersenhöhe oder Metronom</translation>
  </message>
  <message>
   <source>--basis paced needs --stage and --tempo: the metronome's phases are what counts</source>
   <translation>--basis paced braucht ein Tempo: Die Phasen des Metronoms sind es, die zählen</translation>
  </message>
  <message>
   <source>--basis {basis}: repetitions of {exercise} rest on force</source>
   <translation>--basis {basis}: Wiederholungen von {exercise} beruhen auf der Kraft</translation>
  </message>
  <message>
   <source>--one-sided goes with the injured leg: where the other works, it would ask for nothing</source>
   <translation>--one-sided passt zum verletzten Bein: Arbeitet das andere, würde nichts verlangt</translation>
  </message>
  <message>
   <source>--source {source} is given twice; give the other scale's own</source>
   <translation>--source {source} ist zweimal angegeben; geben Sie die der anderen Waage an</translation>
  </message>
  <message>
   <source>--source {source} is no source; write one of: {examples}</source>
   <translation>--source {source} ist keine Quelle; schreiben Sie eine davon: {examples}</translation>
  </message>
  <message>
   <source>--source {source}: settled readings come by Bluetooth; write it like ble:AA:BB:CC:DD:EE:FF</source>
   <translation>--source {source}: Ruhige Messwerte kommen über Bluetooth; schreiben Sie es so: ble:AA:BB:CC:DD:EE:FF</translation>
  </message>
  <message>
   <source>--surface step goes with a stage that lifts the heels: {exercise} does not</source>
   <translation>--surface „Stufe“ passt zu Übungen, die die Fersen heben: {exercise} tut das nicht</translation>
  </message>
  <message>
   <source>--working goes with one leg: {stages}</source>
   <translation>--working passt zu Übungen auf einem Bein: {stages}</translation>
  </message>
  <message>
   <source>10 kg on the injured foot</source>
   <translation>10 kg auf dem verletzten Fuß</translation>
  </message>
  <message>
   <source>20 kg on the injured foot</source>
   <translation>20 kg auf dem verletzten Fuß</translation>
  </message>
  <message>
   <source>30 kg on the injured foot</source>
   <translation>30 kg auf dem verletzten Fuß</translation>
  </message>
  <message>
   <source>30 mm or more</source>
   <translation>30 mm oder mehr</translation>
  </message>
  <message>
   <source>95 % interval</source>
   <translation>95-%-Intervall</translation>
  </message>
  <message>
   <source>: low, charge it soon</source>
   <translation>: schwach, bald laden</translation>
  </message>
  <message>
   <source>: {points:.2f} points of the share</source>
   <translation>: {points:.2f} Punkte des Anteils</translation>
  </message>
  <message>
   <source>; the limit is {load}</source>
   <translation>; die Grenze ist {load}</translation>
  </message>
  <message>
   <source>; {grams:g} g would be {kg:g}</source>
   <translation>; {grams:g} g wären {kg:g}</translation>
  </message>
  <message>
   <source>A band without upper edge goes</source>
   <translation>Ein Bereich ohne Obergrenze passt</translation>
  </message>
  <message>
   <source>A decision is signed once and never changed; another one may follow it. It moves nobody and frees nothing.</source>
   <translation>Ein Entscheid wird einmal unterschrieben und nie geändert; ihm kann ein anderer folgen. Er versetzt niemanden und gibt nichts frei.</translation>
  </message>
  <message>
   <source>A digit says it (1 and then 0 is 10). Up and Down change the row, Enter keeps, Esc leaves.</source>
   <translation>Eine Ziffer genügt (erst 1, dann 0 ist 10). Auf und Ab wechseln die Zeile, Enter behält, Esc verlässt.</translation>
  </message>
  <message>
   <source>A hand by the rail. Rise on your {working_side} foot.</source>
   <translation>Eine Hand ans Geländer. Heben Sie sich auf den {working_side}en Fuß.</translation>
  </message>
  <message>
   <source>A hand on the rail, lean a little to the {named}.</source>
   <translation>Eine Hand am Geländer, lehnen Sie sich etwas nach {named}s.</translation>
  </message>
  <message>
   <source>A hard, level floor; no carpet under the plates.</source>
   <translation>Ein harter, ebener Boden; kein Teppich unter den Platten.</translation>
  </message>
  <message numerus="yes">
   <source>A limit of load was set in {n} sessions, and passed in {passed}.</source>
   <comment>counted</comment>
   <translation>
    <numerusform>In {n} Sitzung war eine Belastungsgrenze gesetzt, in {passed} wurde sie überschritten.</numerusform>
    <numerusform>In {n} Sitzungen war eine Belastungsgrenze gesetzt, in {passed} wurde sie überschritten.</numerusform>
   </translation>
  </message>
  <message>
   <source>A rail or a heavy table within reach, a chair close by.</source>
   <translation>Ein Geländer oder ein schwerer Tisch in Reichweite, ein Stuhl in der Nähe.</translation>
  </message>
  <message>
   <source>A recording, played back</source>
   <translation>Eine Aufzeichnung wird abgespielt</translation>
  </message>
  <message>
   <source>A scale started anew {times}.</source>
   <translation>Eine Waage startete {times} neu.</translation>
  </message>
  <message>
   <source>A store keeps patients and their sessions on this computer alone. With a passphrase all of it is sealed: who loses the passphrase loses everything in the store, and nobody can bring it back. Without one it lies open to whoever may read your files. That is chosen once, now.</source>
   <translation>Ein Verzeichnis hält Personen und ihre Sitzungen nur auf diesem Computer. Mit einem Kennwort ist alles darin versiegelt: Wer das Kennwort verliert, verliert alles im Verzeichnis, und niemand kann es zurückholen. Ohne Kennwort liegt es offen für alle, die Ihre Dateien lesen dürfen. Das wird einmal gewählt, jetzt.</translation>
  </message>
  <message>
   <source>About {seen} are on {here}, far more than {asked}: is somebody still on it? Step off</source>
   <translation>Etwa {seen} liegen auf {here}, weit mehr als {asked}: Steht noch jemand darauf? Bitte absteigen</translation>
  </message>
  <message>
   <source>About {seen} lie on {here}, and {asked} are asked for: look which masses they are, {anyway}</source>
   <translation>Etwa {seen} liegen auf {here}, verlangt sind {asked}: Sehen Sie nach, welche Massen es sind, {anyway}</translation>
  </message>
  <message>
   <source>About {seen} still lie on {here}: take everything off, {anyway}</source>
   <translation>Etwa {seen} liegen noch auf {here}: Nehmen Sie alles ab, {anyway}</translation>
  </message>
  <message>
   <source>Add a cri&amp;terion</source>
   <translation>Kri&amp;terium anlegen</translation>
  </message>
  <message>
   <source>Add a patient</source>
   <translation>Person anlegen</translation>
  </message>
  <message>
   <source>Add {what}, {where} of {here}</source>
   <translation>Legen Sie {what} dazu, {where} {here}</translation>
  </message>
  <message>
   <source>Added weight</source>
   <translation>Zusatzgewicht</translation>
  </message>
  <message>
   <source>Address or port, then Enter:</source>
   <translation>Adresse oder Anschluss, dann Enter:</translation>
  </message>
  <message>
   <source>Address …  (A)</source>
   <translation>Adresse …  (A)</translation>
  </message>
  <message>
   <source>All else is met; how the next morning is has still to be told. {decides}</source>
   <translation>Alles andere ist erfüllt; wie der nächste Morgen ist, steht noch aus. {decides}</translation>
  </message>
  <message>
   <source>All holds done. Ease back to the middle.</source>
   <translation>Alle Male geschafft. Langsam zurück zur Mitte.</translation>
  </message>
  <message>
   <source>All holds done. Heels down, slowly.</source>
   <translation>Alle Male geschafft. Fersen langsam ab.</translation>
  </message>
  <message>
   <source>All intervals are for 95 %. For your information: no approval, and no laboratory's certificate.</source>
   <translation>Alle Intervalle gelten für 95 %. Zu Ihrer Information: keine Zulassung und kein Kalibrierschein eines Labors.</translation>
  </message>
  <message>
   <source>All is measured</source>
   <translation>Alles ist gemessen</translation>
  </message>
  <message>
   <source>All is measured; reckoning</source>
   <translation>Alles ist gemessen; es wird gerechnet</translation>
  </message>
  <message>
   <source>Alt and a letter, or Ctrl+Tab, change what is shown. Enter looks back at a session, Esc goes to the list.</source>
   <translation>Alt und ein Buchstabe oder Strg+Tab wechseln die Ansicht. Enter öffnet den Rückblick, Esc geht zur Liste.</translation>
  </message>
  <message>
   <source>April</source>
   <translation>April</translation>
  </message>
  <message>
   <source>Ask your physiotherapist.</source>
   <translation>Fragen Sie Ihre Physiotherapeutin oder Ihren Physiotherapeuten.</translation>
  </message>
  <message>
   <source>Asked</source>
   <translation>Verlangt</translation>
  </message>
  <message>
   <source>At home: off (F&amp;7)</source>
   <translation>Zu Hause: aus (F&amp;7)</translation>
  </message>
  <message>
   <source>At home: on (F&amp;7)</source>
   <translation>Zu Hause: an (F&amp;7)</translation>
  </message>
  <message>
   <source>At most {kg} kg.</source>
   <translation>Höchstens {kg} kg.</translation>
  </message>
  <message>
   <source>August</source>
   <translation>August</translation>
  </message>
  <message>
   <source>Back  (Space)</source>
   <translation>Zurück  (Leertaste)</translation>
  </message>
  <message>
   <source>Backspace: the step before once more</source>
   <translation>Rücktaste: den Schritt davor noch einmal</translation>
  </message>
  <message>
   <source>Band</source>
   <translation>Bereich</translation>
  </message>
  <message>
   <source>Before it, and kept: {days}{more}.</source>
   <translation>Davor, aufbewahrt: {days}{more}.</translation>
  </message>
  <message>
   <source>Before the next stage</source>
   <translation>Vor der nächsten Stufe</translation>
  </message>
  <message>
   <source>Before the next stage, on {days} days:</source>
   <translation>Vor der nächsten Stufe, an {days} Tagen:</translation>
  </message>
  <message>
   <source>Before the next stage:</source>
   <translation>Vor der nächsten Stufe:</translation>
  </message>
  <message>
   <source>Before you begin</source>
   <translation>Bevor Sie beginnen</translation>
  </message>
  <message>
   <source>Began</source>
   <translation>Beginn</translation>
  </message>
  <message>
   <source>Begin  (Enter)</source>
   <translation>Beginnen  (Enter)</translation>
  </message>
  <message>
   <source>Begin when you are ready.</source>
   <translation>Beginnen Sie, wenn Sie bereit sind.</translation>
  </message>
  <message>
   <source>Below level</source>
   <translation>Unter Standhöhe</translation>
  </message>
  <message>
   <source>Bend your knees only as far as you were told.</source>
   <translation>Beugen Sie die Knie nur so weit, wie es Ihnen gesagt wurde.</translation>
  </message>
  <message>
   <source>Bend your knees when you are ready.</source>
   <translation>Beugen Sie die Knie, wenn Sie bereit sind.</translation>
  </message>
  <message>
   <source>Blind sets</source>
   <translation>Sätze ohne Bildschirm</translation>
  </message>
  <message>
   <source>Bluetooth is switched off on this computer; switch it on in its settings</source>
   <translation>Bluetooth ist auf diesem Computer ausgeschaltet; schalten Sie es in den Einstellungen ein</translation>
  </message>
  <message>
   <source>Body &amp;weight, kg</source>
   <translation>Körper&amp;gewicht, kg</translation>
  </message>
  <message>
   <source>Both feet off the plates, please</source>
   <translation>Bitte beide Füße von den Platten</translation>
  </message>
  <message>
   <source>Both feet stay on. A hand by the rail, without weight on it.</source>
   <translation>Beide Füße bleiben stehen. Eine Hand am Geländer, ohne Gewicht darauf.</translation>
  </message>
  <message>
   <source>Both have settled. {again}</source>
   <translation>Beide sind zur Ruhe gekommen. {again}</translation>
  </message>
  <message>
   <source>Both heels up with {share}, and hold.</source>
   <translation>Beide Fersen hoch mit {share}, und halten.</translation>
  </message>
  <message>
   <source>Both plates felt something. Take both feet off, wait a moment, then press with the left foot alone.</source>
   <translation>Beide Platten haben etwas gespürt. Nehmen Sie beide Füße weg, warten Sie kurz, dann drücken Sie nur mit dem linken Fuß.</translation>
  </message>
  <message>
   <source>Both scales say that they are the {side} one. That does no harm: the press decides.</source>
   <translation>Beide Waagen geben an, die {side}e zu sein. Das schadet nicht: Der Druck entscheidet.</translation>
  </message>
  <message>
   <source>Both together read {total} of your {weight}: part of your weight is elsewhere, or you moved in between.</source>
   <translation>Beide zusammen zeigen {total} von Ihren {weight}: Ein Teil Ihres Gewichts ist anderswo, oder Sie haben sich dazwischen bewegt.</translation>
  </message>
  <message>
   <source>By c&amp;ode</source>
   <translation>Nach Kür&amp;zel</translation>
  </message>
  <message>
   <source>Cali&amp;brate …</source>
   <translation>&amp;Kalibrieren</translation>
  </message>
  <message>
   <source>Calibrate this scale with known masses</source>
   <translation>Diese Waage mit bekannten Massen kalibrieren</translation>
  </message>
  <message>
   <source>Calibrate, below</source>
   <translation>„Kalibrieren“ unten</translation>
  </message>
  <message>
   <source>Calibrated, and valid until {day}</source>
   <translation>Kalibriert und gültig bis {day}</translation>
  </message>
  <message>
   <source>Calibrated.</source>
   <translation>Kalibriert.</translation>
  </message>
  <message>
   <source>Calibrated; no end was set</source>
   <translation>Kalibriert; ohne Ablaufdatum</translation>
  </message>
  <message>
   <source>Caution: {words}.</source>
   <translation>Vorsicht: {words}.</translation>
  </message>
  <message>
   <source>Cei&amp;ling of load, injured side</source>
   <translation>Belastungs&amp;grenze, verletzte Seite</translation>
  </message>
  <message>
   <source>Ceiling of load</source>
   <translation>Belastungsgrenze</translation>
  </message>
  <message>
   <source>Chan&amp;ge the stages …</source>
   <translation>Stufen ä&amp;ndern …</translation>
  </message>
  <message>
   <source>Change the stages (Alt+G): each stands beside its field there.</source>
   <translation>Stufen ändern (Alt+G): Dort steht jeder neben seinem Feld.</translation>
  </message>
  <message>
   <source>Change the target or the limit of load.</source>
   <translation>Ändern Sie das Ziel oder die Belastungsgrenze.</translation>
  </message>
  <message>
   <source>Change {name} – it is saved as a new file; this one stays as it is</source>
   <translation>{name} ändern – gespeichert wird eine neue Datei; diese bleibt, wie sie ist</translation>
  </message>
  <message>
   <source>Channel {channels} is at the end of its range: take load off, or look at its cable</source>
   <translation>Kanal {channels} ist am Ende seines Messbereichs: Nehmen Sie Last weg, oder sehen Sie nach seinem Kabel</translation>
  </message>
  <message>
   <source>Check</source>
   <translation>Prüfen</translation>
  </message>
  <message>
   <source>Check again</source>
   <translation>Nochmals prüfen</translation>
  </message>
  <message>
   <source>Check the screen with a ruler</source>
   <translation>Den Bildschirm mit einem Lineal prüfen</translation>
  </message>
  <message>
   <source>Choose a session first (Alt+S).</source>
   <translation>Zuerst eine Sitzung wählen (Alt+S).</translation>
  </message>
  <message>
   <source>Choose a stage  (F5)</source>
   <translation>Stufe wählen  (F5)</translation>
  </message>
  <message>
   <source>Choose it first (Space); then B shows its light.</source>
   <translation>Erst wählen (Leertaste); dann zeigt B ihr Licht.</translation>
  </message>
  <message>
   <source>Choose the one that reads both feet, or the two that read one each. Others nearby just stay unchosen.</source>
   <translation>Wählen Sie die, die beide Füße misst, oder die zwei, die je einen messen. Andere in der Nähe bleiben einfach ungewählt.</translation>
  </message>
  <message>
   <source>Choose your scales</source>
   <translation>Wählen Sie Ihre Waagen</translation>
  </message>
  <message>
   <source>Clinician (F&amp;3)</source>
   <translation>Fachperson (F&amp;3)</translation>
  </message>
  <message>
   <source>Clinician's &amp;view</source>
   <translation>&amp;Fachansicht</translation>
  </message>
  <message>
   <source>Code</source>
   <translation>Kürzel</translation>
  </message>
  <message>
   <source>Copied: {place}</source>
   <translation>Kopiert: {place}</translation>
  </message>
  <message>
   <source>Correction {number}: {words}, by {by}: {reason}</source>
   <translation>Berichtigung {number}: {words}, von {by}: {reason}</translation>
  </message>
  <message>
   <source>Count the beats: four, then go down.</source>
   <translation>Zählen Sie die Schläge: vier, dann hinunter.</translation>
  </message>
  <message>
   <source>Count the beats: four, then rise.</source>
   <translation>Zählen Sie die Schläge: vier, dann hoch.</translation>
  </message>
  <message>
   <source>Count the beats: four, then stand up.</source>
   <translation>Zählen Sie die Schläge: vier, dann aufstehen.</translation>
  </message>
  <message>
   <source>Counted by</source>
   <translation>Gezählt nach</translation>
  </message>
  <message>
   <source>Counted by the metronome: whether the heels rose was not measured.</source>
   <translation>Nach dem Metronom gezählt: Ob sich die Fersen hoben, wurde nicht gemessen.</translation>
  </message>
  <message>
   <source>Criteria to go on</source>
   <translation>Kriterien zum Weitergehen</translation>
  </message>
  <message>
   <source>Criterion, and what is missing</source>
   <translation>Kriterium, und was dafür fehlt</translation>
  </message>
  <message>
   <source>Crutches or frame in both hands. Lower your foot on to the plate until the mark is reached.</source>
   <translation>Stützen oder Gehgestell in beiden Händen. Senken Sie den Fuß auf die Platte, bis die Marke erreicht ist.</translation>
  </message>
  <message>
   <source>Crutches or frame in both hands. Shift weight on to the foot until the mark is reached.</source>
   <translation>Stützen oder Gehgestell in beiden Händen. Verlagern Sie Gewicht auf den Fuß, bis die Marke erreicht ist.</translation>
  </message>
  <message>
   <source>Days</source>
   <translation>Tage</translation>
  </message>
  <message>
   <source>Dec&amp;ision</source>
   <translation>Ents&amp;cheid</translation>
  </message>
  <message>
   <source>December</source>
   <translation>Dezember</translation>
  </message>
  <message>
   <source>Decided</source>
   <translation>Entschieden</translation>
  </message>
  <message>
   <source>Decision</source>
   <translation>Entscheid</translation>
  </message>
  <message>
   <source>Do as many {raises} as you can, as you practised them.</source>
   <translation>So viele {raises}, wie Sie können, wie geübt.</translation>
  </message>
  <message>
   <source>Do {count} {raises}, as you practised them.</source>
   <translation>{count} {raises}, wie geübt.</translation>
  </message>
  <message>
   <source>Done</source>
   <translation>Fertig</translation>
  </message>
  <message>
   <source>Done  (Enter)</source>
   <translation>Fertig  (Enter)</translation>
  </message>
  <message>
   <source>Down</source>
   <translation>Ab</translation>
  </message>
  <message>
   <source>Down with 60 %</source>
   <translation>Absenken mit 60 %</translation>
  </message>
  <message>
   <source>Down with 75 %</source>
   <translation>Absenken mit 75 %</translation>
  </message>
  <message>
   <source>Down with 80 %</source>
   <translation>Absenken mit 80 %</translation>
  </message>
  <message>
   <source>Down with 85 %</source>
   <translation>Absenken mit 85 %</translation>
  </message>
  <message>
   <source>Down with 90 %</source>
   <translation>Absenken mit 90 %</translation>
  </message>
  <message>
   <source>E&amp;xercise</source>
   <translation>Ü&amp;bung</translation>
  </message>
  <message>
   <source>Each session is read …</source>
   <translation>Jede Sitzung wird gelesen …</translation>
  </message>
  <message>
   <source>Each session of the stage is computed again from its raw record …</source>
   <translation>Jede Sitzung der Stufe wird aus ihren Rohdaten neu berechnet …</translation>
  </message>
  <message>
   <source>Ease a little weight off your {injured} foot.</source>
   <translation>Nehmen Sie etwas Gewicht vom {injured}en Fuß.</translation>
  </message>
  <message>
   <source>End the session? Esc ends it, Space goes on.</source>
   <translation>Sitzung beenden? Esc beendet, Leertaste macht weiter.</translation>
  </message>
  <message>
   <source>End the set</source>
   <translation>Satz beenden</translation>
  </message>
  <message>
   <source>Enter keeps it, Esc leaves everything as it was. A name is optional; it stays on this computer.</source>
   <translation>Enter behält, Esc lässt alles, wie es war. Ein Name ist freiwillig; er bleibt auf diesem Computer.</translation>
  </message>
  <message>
   <source>Enter keeps it. Esc leaves everything as it was.</source>
   <translation>Enter behält. Esc lässt alles, wie es war.</translation>
  </message>
  <message>
   <source>Enter: look for a scale there   ·   Esc: give up</source>
   <translation>Enter: dort eine Waage suchen   ·   Esc: aufgeben</translation>
  </message>
  <message>
   <source>Esc goes back to practice.</source>
   <translation>Esc geht zum Üben zurück.</translation>
  </message>
  <message>
   <source>Esc goes back.</source>
   <translation>Esc geht zurück.</translation>
  </message>
  <message>
   <source>Esc leaves everything as it was.</source>
   <translation>Esc lässt alles, wie es war.</translation>
  </message>
  <message>
   <source>Esc once more: give up   ·   any other key: go on measuring</source>
   <translation>Noch einmal Esc: aufgeben   ·   jede andere Taste: weiter messen</translation>
  </message>
  <message>
   <source>Esc: back to practice</source>
   <translation>Esc: zurück zum Üben</translation>
  </message>
  <message>
   <source>Esc: give up</source>
   <translation>Esc: aufgeben</translation>
  </message>
  <message>
   <source>Esc: leave</source>
   <translation>Esc: verlassen</translation>
  </message>
  <message>
   <source>Everything is well</source>
   <translation>Alles in Ordnung</translation>
  </message>
  <message>
   <source>Exercise</source>
   <translation>Übung</translation>
  </message>
  <message>
   <source>F5 takes the zero again</source>
   <translation>F5 stellt neu auf null</translation>
  </message>
  <message>
   <source>F5 tries again</source>
   <translation>F5 versucht es erneut</translation>
  </message>
  <message>
   <source>February</source>
   <translation>Februar</translation>
  </message>
  <message>
   <source>Find</source>
   <translation>Finden</translation>
  </message>
  <message>
   <source>First choose the scale that reads both feet, or one for each foot (Space), and let it connect.</source>
   <translation>Wählen Sie zuerst die Waage, die beide Füße misst, oder je eine pro Fuß (Leertaste), und lassen Sie sie verbinden.</translation>
  </message>
  <message>
   <source>First press lightly with the left foot, or tell by hand which one is the left (L).</source>
   <translation>Drücken Sie zuerst leicht mit dem linken Fuß, oder sagen Sie von Hand, welche die linke ist (L).</translation>
  </message>
  <message>
   <source>Floor or step</source>
   <translation>Boden oder Stufe</translation>
  </message>
  <message>
   <source>For a new reading step off, and on again.</source>
   <translation>Für einen neuen Wert ab- und wieder aufsteigen.</translation>
  </message>
  <message>
   <source>For a patient (F&amp;3)</source>
   <translation>Für Übende (F&amp;3)</translation>
  </message>
  <message>
   <source>For percent of body weight, stand on the scale with both feet once, and press W.</source>
   <translation>Für Prozent des Körpergewichts stellen Sie sich einmal mit beiden Füßen auf die Waage und drücken W.</translation>
  </message>
  <message>
   <source>For the clinician</source>
   <translation>Für die Fachperson</translation>
  </message>
  <message>
   <source>For whom</source>
   <translation>Für wen</translation>
  </message>
  <message>
   <source>For {unread:.1f} s the load could not be read.</source>
   <translation>Während {unread:.1f} s konnte die Last nicht gelesen werden.</translation>
  </message>
  <message>
   <source>Forgotten? Whoever looks after this computer deletes the file {path}; then a new one can be set. What is kept of patients stays as it is.</source>
   <translation>Vergessen? Wer diesen Computer betreut, löscht die Datei {path}; dann kann ein neues gesetzt werden. Was über Personen aufbewahrt ist, bleibt, wie es ist.</translation>
  </message>
  <message>
   <source>Freed b&amp;y (name or initials)</source>
   <translation>Freigegeben &amp;von (Name oder Kürzel)</translation>
  </message>
  <message>
   <source>Freed by</source>
   <translation>Freigegeben von</translation>
  </message>
  <message>
   <source>Freed by {freed_by} on {freed_on}.</source>
   <translation>Freigegeben von {freed_by} am {freed_on}.</translation>
  </message>
  <message>
   <source>Freed of</source>
   <translation>Freigegeben</translation>
  </message>
  <message>
   <source>Freed on</source>
   <translation>Freigegeben am</translation>
  </message>
  <message>
   <source>Friday</source>
   <translation>Freitag</translation>
  </message>
  <message>
   <source>From above</source>
   <translation>Von oben</translation>
  </message>
  <message>
   <source>From now on: {stage}. That it was taken, and why, is kept with the session.</source>
   <translation>Von jetzt an: {stage}. Dass es angenommen wurde, und warum, wird bei der Sitzung aufbewahrt.</translation>
  </message>
  <message>
   <source>From the side</source>
   <translation>Von der Seite</translation>
  </message>
  <message>
   <source>From {first}{unit} on {day} to {newest}{unit} on {newest_day}, {days} days.</source>
   <translation>Von {first}{unit} am {day} zu {newest}{unit} am {newest_day}, {days} Tage.</translation>
  </message>
  <message>
   <source>Full raise</source>
   <translation>Volles Heben</translation>
  </message>
  <message>
   <source>Give at least 8 characters; several words are easily remembered.</source>
   <translation>Geben Sie mindestens 8 Zeichen ein; mehrere Wörter merkt man sich leicht.</translation>
  </message>
  <message>
   <source>Give at most 200 characters.</source>
   <translation>Geben Sie höchstens 200 Zeichen ein.</translation>
  </message>
  <message>
   <source>Give it another version: every session keeps the version that it was done by.</source>
   <translation>Geben Sie eine andere Version an: Jede Sitzung behält die, nach der sie gemacht wurde.</translation>
  </message>
  <message>
   <source>Give the body weight in kg: with support no scale can weigh anybody.</source>
   <translation>Geben Sie das Körpergewicht in kg an: Mit Abstützung kann keine Waage jemanden wiegen.</translation>
  </message>
  <message>
   <source>Give the reason, on one line.</source>
   <translation>Nennen Sie den Grund, auf einer Zeile.</translation>
  </message>
  <message>
   <source>Give this calibration up?</source>
   <translation>Diese Kalibrierung aufgeben?</translation>
  </message>
  <message>
   <source>Giving the scale back …</source>
   <translation>Die Waage wird zurückgegeben …</translation>
  </message>
  <message>
   <source>Go down in {left}.</source>
   <translation>Hinunter in {left}.</translation>
  </message>
  <message>
   <source>Go on</source>
   <translation>Weiter</translation>
  </message>
  <message>
   <source>Go on  (Enter)</source>
   <translation>Weiter  (Enter)</translation>
  </message>
  <message>
   <source>Go on measuring  (Space)</source>
   <translation>Weiter messen  (Leertaste)</translation>
  </message>
  <message>
   <source>Go on to practice  (Space)</source>
   <translation>Weiter zum Üben  (Leertaste)</translation>
  </message>
  <message>
   <source>Going down: {upper} % in the upper part, {middle} % in the middle, {lower} % in the lower part.</source>
   <translation>Beim Absenken: {upper} % im oberen Teil, {middle} % in der Mitte, {lower} % im unteren Teil.</translation>
  </message>
  <message>
   <source>Good, just so.</source>
   <translation>Gut so.</translation>
  </message>
  <message>
   <source>Good. Stay just there.</source>
   <translation>Gut. Bleiben Sie genau da.</translation>
  </message>
  <message>
   <source>Grace</source>
   <translation>Toleranzzeit</translation>
  </message>
  <message>
   <source>Half of body weight on the injured foot</source>
   <translation>Halbes Körpergewicht auf dem verletzten Fuß</translation>
  </message>
  <message>
   <source>Hand on the rail, step off: too much load.</source>
   <translation>Hand ans Geländer, absteigen: zu viel Last.</translation>
  </message>
  <message>
   <source>Hand on the rail. As many as you can, the sound leg first.</source>
   <translation>Hand am Geländer. So viele, wie Sie können, das gesunde Bein zuerst.</translation>
  </message>
  <message>
   <source>Hand on the rail. Go down as far as you were told.</source>
   <translation>Hand am Geländer. So weit hinunter, wie es Ihnen gesagt wurde.</translation>
  </message>
  <message>
   <source>Hand on the rail. Heels no lower than the step.</source>
   <translation>Hand am Geländer. Fersen nicht tiefer als die Stufe.</translation>
  </message>
  <message>
   <source>Hand on the rail. Keep your knee a little bent.</source>
   <translation>Hand am Geländer. Das Knie bleibt leicht gebeugt.</translation>
  </message>
  <message>
   <source>Hand on the rail. Up and down on one foot.</source>
   <translation>Hand am Geländer. Auf einem Fuß hoch und ab.</translation>
  </message>
  <message>
   <source>Hand on the rail. Up on both feet, down on one.</source>
   <translation>Hand am Geländer. Auf beiden Füßen hoch, auf einem ab.</translation>
  </message>
  <message>
   <source>Hand on the rail. Wear the weight close to your body.</source>
   <translation>Hand am Geländer. Tragen Sie das Gewicht nahe am Körper.</translation>
  </message>
  <message>
   <source>Have a rail within reach and someone by.</source>
   <translation>Ein Geländer in Reichweite, und jemand dabei.</translation>
  </message>
  <message>
   <source>Have the scale calibrated: until then the share is off.</source>
   <translation>Lassen Sie die Waage kalibrieren: Bis dahin stimmt der Anteil nicht.</translation>
  </message>
  <message>
   <source>Heel raises, one leg</source>
   <translation>Fersenheben, ein Bein</translation>
  </message>
  <message>
   <source>Heel raises, two legs</source>
   <translation>Fersenheben, zwei Beine</translation>
  </message>
  <message>
   <source>Heel up and down on the {leg} leg alone.</source>
   <translation>Ferse hoch und ab nur auf dem {leg}en Bein.</translation>
  </message>
  <message>
   <source>Heels down</source>
   <translation>Fersen unten</translation>
  </message>
  <message>
   <source>Heels over a step.</source>
   <translation>Fersen über einer Stufe.</translation>
  </message>
  <message>
   <source>Heels up and down with {share}.</source>
   <translation>Fersen hoch und ab mit {share}.</translation>
  </message>
  <message>
   <source>Heels up evenly, then down with {share}.</source>
   <translation>Fersen gleichmäßig hoch, dann ab mit {share}.</translation>
  </message>
  <message>
   <source>Heels up on both legs, down on the {leg} leg alone.</source>
   <translation>Fersen auf beiden Beinen hoch, nur auf dem {leg}en Bein ab.</translation>
  </message>
  <message>
   <source>Height a&amp;bove sea, m</source>
   <translation>&amp;Höhe über Meer, m</translation>
  </message>
  <message>
   <source>Height reference</source>
   <translation>Bezugshöhe</translation>
  </message>
  <message>
   <source>Height sensors, where there are any, right under the heels.</source>
   <translation>Höhensensoren, falls vorhanden, genau unter den Fersen.</translation>
  </message>
  <message>
   <source>Height was not measured.</source>
   <translation>Die Höhe wurde nicht gemessen.</translation>
  </message>
  <message>
   <source>Held</source>
   <translation>Gehalten</translation>
  </message>
  <message>
   <source>Hold</source>
   <translation>Halten</translation>
  </message>
  <message>
   <source>Hold a ruler against the bar.</source>
   <translation>Halten Sie ein Lineal an den Balken.</translation>
  </message>
  <message>
   <source>Hold goal</source>
   <translation>Halteziel</translation>
  </message>
  <message>
   <source>Hold on two legs, 10 s</source>
   <translation>Halten auf zwei Beinen, 10 s</translation>
  </message>
  <message>
   <source>Hold on two legs, 30 s</source>
   <translation>Halten auf zwei Beinen, 30 s</translation>
  </message>
  <message>
   <source>Hold the rail. Ease the weight off your {injured} foot.</source>
   <translation>Festhalten. Nehmen Sie das Gewicht vom {injured}en Fuß.</translation>
  </message>
  <message>
   <source>Hold {done} of {asked} is done. Ease back and rest.</source>
   <translation>Halten {done} von {asked} geschafft. Zurück und ausruhen.</translation>
  </message>
  <message>
   <source>Hold {done} of {asked} is done. Heels down, slowly, and rest.</source>
   <translation>Halten {done} von {asked} geschafft. Fersen langsam ab und ausruhen.</translation>
  </message>
  <message>
   <source>Hold, heels up</source>
   <translation>Halten, Fersen hoch</translation>
  </message>
  <message>
   <source>Hold.</source>
   <translation>Halten.</translation>
  </message>
  <message>
   <source>Hold. All your weight on the {working_side} foot.</source>
   <translation>Halten. Alles Gewicht auf den {working_side}en Fuß.</translation>
  </message>
  <message>
   <source>Hold. Shift to your {heavier} foot.</source>
   <translation>Halten. Verlagern Sie auf den {heavier}en Fuß.</translation>
  </message>
  <message>
   <source>Holds</source>
   <translation>Haltephasen</translation>
  </message>
  <message>
   <source>How &amp;thorough</source>
   <translation>Wie gründ&amp;lich</translation>
  </message>
  <message>
   <source>How hard it was</source>
   <translation>Wie anstrengend es war</translation>
  </message>
  <message>
   <source>How hard it was: 0 is no effort, 10 all that you have.</source>
   <translation>Anstrengung: 0 heißt keine, 10 alles, was Sie haben.</translation>
  </message>
  <message>
   <source>How high the figures are is not checked on this screen yet: Ruler.</source>
   <translation>Wie hoch die Ziffern sind, ist auf diesem Bildschirm noch nicht geprüft: Lineal.</translation>
  </message>
  <message>
   <source>How is it?</source>
   <translation>Wie geht es?</translation>
  </message>
  <message>
   <source>How it is (F&amp;4)</source>
   <translation>Befinden (F&amp;4)</translation>
  </message>
  <message>
   <source>How man&amp;y</source>
   <translation>Wie vie&amp;le</translation>
  </message>
  <message>
   <source>How many on each leg</source>
   <translation>Wie viele je Bein</translation>
  </message>
  <message>
   <source>How much load</source>
   <translation>Wie viel Last</translation>
  </message>
  <message>
   <source>How much load you may take is for your surgeon to say.</source>
   <translation>Wie viel Sie belasten dürfen, sagt Ihre Chirurgin oder Ihr Chirurg.</translation>
  </message>
  <message>
   <source>How much, how fast</source>
   <translation>Wie oft, wie schnell</translation>
  </message>
  <message>
   <source>How the scales are</source>
   <translation>Wie es um die Waagen steht</translation>
  </message>
  <message>
   <source>How was it? Pain and effort are kept with the session.</source>
   <translation>Wie war es? Schmerz und Anstrengung werden bei der Sitzung aufbewahrt.</translation>
  </message>
  <message>
   <source>How was the pain on the morning after the session of {day}?</source>
   <translation>Wie war der Schmerz am Morgen nach der Sitzung vom {day}?</translation>
  </message>
  <message>
   <source>If so, change the two over, then press Space. If you went to the {other}, just press Space.</source>
   <translation>Wenn ja, tauschen Sie die beiden und drücken Sie die Leertaste. Gingen Sie nach {other}s, drücken Sie nur die Leertaste.</translation>
  </message>
  <message>
   <source>If so, press X: left and right are exchanged, and asked again. If you went to the {foot}, just press Space.</source>
   <translation>Wenn ja, drücken Sie X: Links und rechts werden getauscht und neu gefragt. Gingen Sie nach {foot}s, drücken Sie nur die Leertaste.</translation>
  </message>
  <message>
   <source>In the warm-up stand, by yourself: {percent:.0f} % on the {injured} foot.</source>
   <translation>Im Aufwärmstand, von selbst: {percent:.0f} % auf dem {injured}en Fuß.</translation>
  </message>
  <message>
   <source>In this exercise the injured leg stands alone, and nobody has allowed that here. The clinician does (F3).</source>
   <translation>Bei dieser Übung steht das verletzte Bein allein, und niemand hat das hier erlaubt. Das tut die Fachperson (F3).</translation>
  </message>
  <message>
   <source>In this exercise the injured leg stands alone. Only where the surgeon's protocol and the treating clinician allow that: how much load may be taken is for the surgeon to say.</source>
   <translation>Bei dieser Übung steht das verletzte Bein allein. Nur wo das Nachbehandlungsschema und die behandelnde Fachperson es erlauben: Wie viel belastet werden darf, sagt die Chirurgin oder der Chirurg.</translation>
  </message>
  <message>
   <source>In this set</source>
   <translation>In diesem Satz</translation>
  </message>
  <message>
   <source>Index: injured side in percent of the other. ±: expanded uncertainty, k = 2. No index is a permission: the treating clinician decides.</source>
   <translation>Index: verletzte Seite in Prozent der anderen. ±: erweiterte Unsicherheit, k = 2. Kein Index ist eine Erlaubnis: Die behandelnde Fachperson entscheidet.</translation>
  </message>
  <message>
   <source>Injured &amp;side</source>
   <translation>Verletzte &amp;Seite</translation>
  </message>
  <message>
   <source>It calls itself the {said} one; from now on it is used as the {side} one.</source>
   <translation>Sie nennt sich die {said}e; ab jetzt gilt sie als die {side}e.</translation>
  </message>
  <message>
   <source>It cannot be used so: {said}</source>
   <translation>So kann sie nicht benutzt werden: {said}</translation>
  </message>
  <message>
   <source>It cannot go on</source>
   <translation>Es kann nicht weitergehen</translation>
  </message>
  <message>
   <source>It could not begin</source>
   <translation>Es konnte nicht beginnen</translation>
  </message>
  <message>
   <source>It falls from day to day.</source>
   <translation>Es fällt von Tag zu Tag.</translation>
  </message>
  <message>
   <source>It is allowed  (Alt+&amp;Y)</source>
   <translation>Es ist erlaubt  (Alt+&amp;Y)</translation>
  </message>
  <message>
   <source>It is in force now, and valid until {day}.</source>
   <translation>Sie gilt ab jetzt und bis {day}.</translation>
  </message>
  <message>
   <source>It may be better to rest and to ask before the next session, or going back to {stage}. {decides}</source>
   <translation>Vielleicht ist es besser, zu pausieren und vor der nächsten Sitzung zu fragen, oder zu {stage} zurückzugehen. {decides}</translation>
  </message>
  <message>
   <source>It may be better to rest and to ask before the next session. {decides}</source>
   <translation>Vielleicht ist es besser, zu pausieren und vor der nächsten Sitzung zu fragen. {decides}</translation>
  </message>
  <message>
   <source>It rests on: {reasons}.</source>
   <translation>Das stützt sich auf: {reasons}.</translation>
  </message>
  <message>
   <source>It rises from day to day.</source>
   <translation>Es steigt von Tag zu Tag.</translation>
  </message>
  <message>
   <source>It shows settled readings only. To see them: Esc, and in the bar Source {source}.</source>
   <translation>Sie zeigt nur ruhige Messwerte. Um sie zu sehen: Esc, und in der Leiste Quelle {source}.</translation>
  </message>
  <message>
   <source>It stays as it was.</source>
   <translation>Es bleibt, wie es war.</translation>
  </message>
  <message>
   <source>Its analysis was of another version, and was made anew from the raw record.</source>
   <translation>Die Auswertung war von einer anderen Version und wurde aus den Rohdaten neu gemacht.</translation>
  </message>
  <message>
   <source>Its passphrase opens it until this screen is locked or the window is closed.</source>
   <translation>Das Kennwort öffnet es, bis dieser Bildschirm gesperrt oder das Fenster geschlossen wird.</translation>
  </message>
  <message>
   <source>January</source>
   <translation>Januar</translation>
  </message>
  <message>
   <source>July</source>
   <translation>Juli</translation>
  </message>
  <message>
   <source>June</source>
   <translation>Juni</translation>
  </message>
  <message>
   <source>Keep it  (Enter)</source>
   <translation>Behalten  (Enter)</translation>
  </message>
  <message>
   <source>Keep off the scales for {left} more</source>
   <translation>Noch {left} von den Waagen wegbleiben</translation>
  </message>
  <message>
   <source>Keep your knees a little bent all the way.</source>
   <translation>Die Knie bleiben die ganze Zeit leicht gebeugt.</translation>
  </message>
  <message>
   <source>Kept in</source>
   <translation>Aufbewahrt in</translation>
  </message>
  <message>
   <source>Kept in {place}</source>
   <translation>Aufbewahrt in {place}</translation>
  </message>
  <message>
   <source>Kept with each session, where you tell it:</source>
   <translation>Bei jeder Sitzung aufbewahrt, wenn Sie es angeben:</translation>
  </message>
  <message>
   <source>Key M marks a fault</source>
   <translation>Taste M vermerkt einen Fehler</translation>
  </message>
  <message>
   <source>Key N ends the set</source>
   <translation>Taste N beendet den Satz</translation>
  </message>
  <message>
   <source>Key S passes over this check</source>
   <translation>Taste S überspringt diese Prüfung</translation>
  </message>
  <message>
   <source>Keys ← and → make it 100 mm long, with Shift faster.</source>
   <translation>Tasten ← und → machen ihn 100 mm lang, mit Umschalt schneller.</translation>
  </message>
  <message>
   <source>Keys ← → shift the virtual person's weight</source>
   <translation>Tasten ← → verlagern das Gewicht der virtuellen Person</translation>
  </message>
  <message>
   <source>Knees</source>
   <translation>Knie</translation>
  </message>
  <message>
   <source>Knees {knee}.</source>
   <translation>Knie {knee}.</translation>
  </message>
  <message>
   <source>LOAD NOT READ</source>
   <translation>LAST NICHT LESBAR</translation>
  </message>
  <message>
   <source>Last session</source>
   <translation>Letzte Sitzung</translation>
  </message>
  <message>
   <source>Lay it on anew; or press Space to take it as it lies</source>
   <translation>Legen Sie es neu auf; oder Leertaste, um es so zu nehmen</translation>
  </message>
  <message>
   <source>Lay {what} {where} of {here}</source>
   <translation>Legen Sie {what} {where} {here}</translation>
  </message>
  <message>
   <source>Lean on the rail only as much as you need.</source>
   <translation>Stützen Sie sich nur so viel ab wie nötig.</translation>
  </message>
  <message>
   <source>Leave  (Esc)</source>
   <translation>Verlassen  (Esc)</translation>
  </message>
  <message>
   <source>Leave it  (Esc)</source>
   <translation>Lassen  (Esc)</translation>
  </message>
  <message>
   <source>Leave it there and touch nothing for {left} more</source>
   <translation>Noch {left} liegen lassen und nichts berühren</translation>
  </message>
  <message>
   <source>Leave this screen to a patient</source>
   <translation>Für Übende sperren</translation>
  </message>
  <message>
   <source>Leave {what} {where} of {here}</source>
   <translation>Lassen Sie {what} {where} {here} liegen</translation>
  </message>
  <message>
   <source>Left</source>
   <translation>Links</translation>
  </message>
  <message>
   <source>Left and right</source>
   <translation>Links und rechts</translation>
  </message>
  <message>
   <source>Left and right are exchanged. A moment, please.</source>
   <translation>Links und rechts sind getauscht. Einen Moment, bitte.</translation>
  </message>
  <message>
   <source>Left and right are not checked yet: are the plates swapped?</source>
   <translation>Links und rechts sind noch nicht geprüft: Sind die Platten vertauscht?</translation>
  </message>
  <message>
   <source>Left and right were not checked.</source>
   <translation>Links und rechts wurden nicht geprüft.</translation>
  </message>
  <message>
   <source>Left is left</source>
   <translation>Links ist links</translation>
  </message>
  <message>
   <source>Left or right? {name}</source>
   <translation>Links oder rechts? {name}</translation>
  </message>
  <message>
   <source>Length</source>
   <translation>Dauer</translation>
  </message>
  <message>
   <source>Less weight on the {injured} foot now.</source>
   <translation>Jetzt weniger Gewicht auf den {injured}en Fuß.</translation>
  </message>
  <message>
   <source>Let the two plates change places, or turn the board round. Take both feet off, then press with the left again.</source>
   <translation>Tauschen Sie die beiden Platten, oder drehen Sie das Brett um. Nehmen Sie beide Füße weg, dann drücken Sie noch einmal mit dem linken.</translation>
  </message>
  <message>
   <source>Letting go of the scales …</source>
   <translation>Die Waagen werden freigegeben …</translation>
  </message>
  <message>
   <source>Limit</source>
   <translation>Grenze</translation>
  </message>
  <message>
   <source>Limit of load</source>
   <translation>Belastungsgrenze</translation>
  </message>
  <message>
   <source>Limits</source>
   <translation>Grenzen</translation>
  </message>
  <message>
   <source>Line {line}, {where}: {why}</source>
   <translation>Zeile {line}, {where}: {why}</translation>
  </message>
  <message>
   <source>Little change from the first repetitions to the last: {listed}.</source>
   <translation>Wenig Änderung von den ersten zu den letzten Wiederholungen: {listed}.</translation>
  </message>
  <message>
   <source>Lock (F&amp;3)</source>
   <translation>Sperren (F&amp;3)</translation>
  </message>
  <message>
   <source>Locked in any case</source>
   <translation>Immer gesperrt</translation>
  </message>
  <message>
   <source>Locked: {locks}. {frees}</source>
   <translation>Gesperrt: {locks}. {frees}</translation>
  </message>
  <message>
   <source>Locks</source>
   <translation>Sperren</translation>
  </message>
  <message>
   <source>Look back at a session</source>
   <translation>Auf eine Sitzung zurückblicken</translation>
  </message>
  <message>
   <source>Looking for scales …</source>
   <translation>Waagen werden gesucht …</translation>
  </message>
  <message>
   <source>Looking for sessions …</source>
   <translation>Sitzungen werden gesucht …</translation>
  </message>
  <message>
   <source>Looking for the scale</source>
   <translation>Die Waage wird gesucht</translation>
  </message>
  <message>
   <source>Looking for the scales …</source>
   <translation>Die Waagen werden gesucht …</translation>
  </message>
  <message>
   <source>Looking for your scales …</source>
   <translation>Ihre Waagen werden gesucht …</translation>
  </message>
  <message>
   <source>Made b&amp;y</source>
   <translation>Erstellt &amp;von</translation>
  </message>
  <message>
   <source>Make it  (Enter)</source>
   <translation>Anlegen  (Enter)</translation>
  </message>
  <message>
   <source>March</source>
   <translation>März</translation>
  </message>
  <message>
   <source>May</source>
   <translation>Mai</translation>
  </message>
  <message>
   <source>Mean share of the {injured} side {share:.1f} %, {worth}.</source>
   <translation>Mittlerer Anteil der {injured}en Seite {share:.1f} %, {worth}.</translation>
  </message>
  <message>
   <source>Measuring</source>
   <translation>Es wird gemessen</translation>
  </message>
  <message>
   <source>Measuring: leave it as it is</source>
   <translation>Es wird gemessen: so lassen</translation>
  </message>
  <message>
   <source>Met on {met} of {days} days: {stage} could be done again. {decides}</source>
   <translation>Erfüllt an {met} von {days} Tagen: {stage} könnte wiederholt werden. {decides}</translation>
  </message>
  <message>
   <source>Monday</source>
   <translation>Montag</translation>
  </message>
  <message>
   <source>More on the left</source>
   <translation>Mehr nach links</translation>
  </message>
  <message>
   <source>More on the right</source>
   <translation>Mehr nach rechts</translation>
  </message>
  <message>
   <source>More settings: {exercise}</source>
   <translation>Weitere Einstellungen: {exercise}</translation>
  </message>
  <message>
   <source>More weight on your {injured} foot.</source>
   <translation>Mehr Gewicht auf den {injured}en Fuß.</translation>
  </message>
  <message>
   <source>Morning</source>
   <translation>Morgen danach</translation>
  </message>
  <message>
   <source>Move &amp;down</source>
   <translation>Nach &amp;unten</translation>
  </message>
  <message>
   <source>Move &amp;up</source>
   <translation>Nach &amp;oben</translation>
  </message>
  <message>
   <source>Move phases of repetition {number}.</source>
   <translation>Phasen von Wiederholung {number} verschieben.</translation>
  </message>
  <message>
   <source>Move {what} to the {place} of {here}</source>
   <translation>Verschieben Sie {what} auf {place} {here}</translation>
  </message>
  <message>
   <source>Name</source>
   <translation>Name</translation>
  </message>
  <message>
   <source>Never over {limit} on the {injured} side.</source>
   <translation>Nie über {limit} auf der {injured}en Seite.</translation>
  </message>
  <message>
   <source>Never over {limit}.</source>
   <translation>Nie über {limit}.</translation>
  </message>
  <message>
   <source>New session</source>
   <translation>Neue Sitzung</translation>
  </message>
  <message>
   <source>Newest session (±: k = 2)</source>
   <translation>Neueste Sitzung (±: k = 2)</translation>
  </message>
  <message>
   <source>Next set</source>
   <translation>Nächster Satz</translation>
  </message>
  <message>
   <source>Next time these scales are found by themselves.</source>
   <translation>Beim nächsten Mal werden diese Waagen von selbst gefunden.</translation>
  </message>
  <message>
   <source>No calibration before this one is kept.</source>
   <translation>Keine frühere Kalibrierung ist aufbewahrt.</translation>
  </message>
  <message>
   <source>No calibration of this scale is known here.</source>
   <translation>Von dieser Waage ist hier keine Kalibrierung bekannt.</translation>
  </message>
  <message>
   <source>No data are coming. The link is tried again by itself.</source>
   <translation>Es kommen keine Daten. Die Verbindung wird von selbst neu versucht.</translation>
  </message>
  <message>
   <source>No figures are kept with it: it was not made by a guided calibration on this machine.</source>
   <translation>Es sind keine Zahlen dabei: Sie entstand nicht durch eine geführte Kalibrierung auf diesem Gerät.</translation>
  </message>
  <message>
   <source>No index: {why}.</source>
   <translation>Kein Index: {why}.</translation>
  </message>
  <message>
   <source>No limit of load was set.</source>
   <translation>Es war keine Belastungsgrenze gesetzt.</translation>
  </message>
  <message>
   <source>No more than {limit} on the {injured} foot.</source>
   <translation>Nicht mehr als {limit} auf dem {injured}en Fuß.</translation>
  </message>
  <message>
   <source>No passphrase is set on this computer yet. Set the clinician's here, and the patients open. From then on it is asked for before anybody sees them, and F3 locks the screen with it for a patient.</source>
   <translation>Auf diesem Computer ist noch kein Kennwort gesetzt. Setzen Sie hier das der Fachperson, dann öffnen sich die Patienten. Von da an wird danach gefragt, bevor jemand sie sieht, und mit F3 sperrt es den Bildschirm für einen Patienten.</translation>
  </message>
  <message>
   <source>No published number says when to go from two legs to one: the treating clinician decides.</source>
   <translation>Keine veröffentlichte Zahl sagt, wann von zwei Beinen auf eines zu gehen ist: Die behandelnde Fachperson entscheidet.</translation>
  </message>
  <message>
   <source>No repetition, no hold and no passed limit was found.</source>
   <translation>Keine Wiederholung, kein Halten und keine überschrittene Grenze gefunden.</translation>
  </message>
  <message>
   <source>No scale answers on {named}.</source>
   <translation>Auf {named} antwortet keine Waage.</translation>
  </message>
  <message>
   <source>No scales so far. Are they switched on, and the cable in? The virtual ones are always there, to try it.</source>
   <translation>Noch keine Waagen. Sind sie eingeschaltet, ist das Kabel dran? Die virtuellen sind immer da, zum Ausprobieren.</translation>
  </message>
  <message>
   <source>No session is saved in this folder yet.</source>
   <translation>In diesem Ordner ist noch keine Sitzung gespeichert.</translation>
  </message>
  <message>
   <source>No session of a day that is over yet.</source>
   <translation>Noch keine Sitzung eines vergangenen Tages.</translation>
  </message>
  <message>
   <source>No session yet.</source>
   <translation>Noch keine Sitzung.</translation>
  </message>
  <message>
   <source>No sound: the audio library (libportaudio2) is not installed.</source>
   <translation>Kein Ton: Die Audiobibliothek (libportaudio2) ist nicht installiert.</translation>
  </message>
  <message>
   <source>No sound: this machine has no audio device.</source>
   <translation>Kein Ton: Dieses Gerät hat keine Tonausgabe.</translation>
  </message>
  <message>
   <source>No spoken cues: no voice on this computer speaks the language of the window.</source>
   <translation>Keine gesprochenen Hinweise: keine Stimme auf diesem Computer spricht die Sprache des Fensters.</translation>
  </message>
  <message>
   <source>No spoken cues: the extra “voice” (PySide6-Addons) is not installed.</source>
   <translation>Keine gesprochenen Hinweise: Das Extra „voice“ (PySide6-Addons) ist nicht installiert.</translation>
  </message>
  <message>
   <source>No spoken cues: this computer has no speech engine.</source>
   <translation>Keine gesprochenen Hinweise: Dieser Computer hat keine Sprachausgabe.</translation>
  </message>
  <message>
   <source>No target was set: there was nothing to hold.</source>
   <translation>Es war kein Ziel gesetzt: Es gab nichts zu halten.</translation>
  </message>
  <message>
   <source>Nobody is found by these words.</source>
   <translation>Mit diesen Worten wird niemand gefunden.</translation>
  </message>
  <message>
   <source>Nobody on the plates, please. The noise is that of single readings over one second, not filtered.</source>
   <translation>Bitte niemand auf den Platten. Das Rauschen ist das einzelner Messwerte über eine Sekunde, ungefiltert.</translation>
  </message>
  <message>
   <source>Nobody on the plates: the session ends in {seconds} s. Step on to go on.</source>
   <translation>Niemand auf den Platten: Die Sitzung endet in {seconds} s. Zum Weitermachen aufsteigen.</translation>
  </message>
  <message>
   <source>Not &amp;yet</source>
   <translation>&amp;Noch nicht</translation>
  </message>
  <message>
   <source>Not as it should be</source>
   <translation>Nicht wie es sein soll</translation>
  </message>
  <message>
   <source>Not counted: {why}.</source>
   <translation>Nicht gezählt: {why}.</translation>
  </message>
  <message>
   <source>Not no&amp;w</source>
   <translation>Nicht &amp;jetzt</translation>
  </message>
  <message>
   <source>Not seen over {limit}.</source>
   <translation>Nicht über {limit} gesehen.</translation>
  </message>
  <message>
   <source>Note</source>
   <translation>Notiz</translation>
  </message>
  <message>
   <source>Nothing can be found by Bluetooth: {trouble}.</source>
   <translation>Über Bluetooth kann nichts gefunden werden: {trouble}.</translation>
  </message>
  <message>
   <source>Nothing has changed on {here} yet; if it lies as asked, press Space</source>
   <translation>Auf {here} hat sich noch nichts geändert; liegt es wie verlangt, drücken Sie die Leertaste</translation>
  </message>
  <message>
   <source>Nothing here is a permission: the treating clinician decides, and the surgeon's protocol goes first.</source>
   <translation>Nichts hier ist eine Erlaubnis: Die behandelnde Fachperson entscheidet; das Nachbehandlungsschema geht vor.</translation>
  </message>
  <message>
   <source>Nothing in this session has a value for each side.</source>
   <translation>Nichts in dieser Sitzung hat einen Wert für jede Seite.</translation>
  </message>
  <message>
   <source>Nothing is set to be done here yet. The clinician unlocks, and sets it.</source>
   <translation>Hier ist noch nichts festgelegt. Die Fachperson entsperrt und legt es fest.</translation>
  </message>
  <message>
   <source>Nothing may touch the plates for a second; then the left foot is asked for.</source>
   <translation>Eine Sekunde lang darf nichts die Platten berühren; dann kommt der linke Fuß.</translation>
  </message>
  <message>
   <source>Nothing of it was corrected.</source>
   <translation>Nichts daran wurde berichtigt.</translation>
  </message>
  <message>
   <source>Nothing of this is saved yet. Esc again leaves without it, Ctrl+S saves.</source>
   <translation>Davon ist noch nichts gespeichert. Noch einmal Esc verlässt ohne Speichern, Strg+S speichert.</translation>
  </message>
  <message>
   <source>Nothing of this session is kept, and so nothing of what was said of it.</source>
   <translation>Von dieser Sitzung wird nichts aufbewahrt, also auch nichts, was dazu gesagt wurde.</translation>
  </message>
  <message>
   <source>Nothing on {here}: step back, and let nobody touch the scales</source>
   <translation>Nichts auf {here}: zurücktreten, und niemand berührt die Waagen</translation>
  </message>
  <message>
   <source>Nothing was done alike on two days yet: then figures can be held against each other.</source>
   <translation>Noch wurde an keinen zwei Tagen dasselbe gemacht: Erst dann lassen sich Zahlen vergleichen.</translation>
  </message>
  <message>
   <source>Nothing was told of pain.</source>
   <translation>Zum Schmerz wurde nichts gesagt.</translation>
  </message>
  <message>
   <source>Nothing was written.</source>
   <translation>Es wurde nichts geschrieben.</translation>
  </message>
  <message>
   <source>November</source>
   <translation>November</translation>
  </message>
  <message>
   <source>Now press lightly with the left foot</source>
   <translation>Jetzt leicht mit dem linken Fuß drücken</translation>
  </message>
  <message>
   <source>Number of holds</source>
   <translation>Anzahl Halten</translation>
  </message>
  <message>
   <source>OLD: {age}</source>
   <translation>ALT: {age}</translation>
  </message>
  <message>
   <source>OLD: {ago}</source>
   <translation>ALT: {ago}</translation>
  </message>
  <message>
   <source>October</source>
   <translation>Oktober</translation>
  </message>
  <message>
   <source>Of this patient</source>
   <translation>Bei dieser Person</translation>
  </message>
  <message>
   <source>Old by now. {again}</source>
   <translation>Inzwischen alt. {again}</translation>
  </message>
  <message>
   <source>Once</source>
   <translation>Einmal</translation>
  </message>
  <message>
   <source>One foot on each scale. Hold the rail, stand still until both have settled.</source>
   <translation>Auf jede Waage ein Fuß. Halten Sie sich fest, stehen Sie still, bis beide zur Ruhe gekommen sind.</translation>
  </message>
  <message>
   <source>One moment …</source>
   <translation>Einen Moment …</translation>
  </message>
  <message>
   <source>One moment: waiting for the scales.</source>
   <translation>Einen Moment: Die Waagen kommen.</translation>
  </message>
  <message>
   <source>One of these reads both feet: choose that one alone, or two that read one foot each.</source>
   <translation>Eine davon misst beide Füße: Wählen Sie nur diese, oder zwei, die je einen Fuß messen.</translation>
  </message>
  <message>
   <source>One set</source>
   <translation>Ein Satz</translation>
  </message>
  <message>
   <source>Only the clinician frees it: F3, then Alt+F where stages are chosen.</source>
   <translation>Nur die Fachperson gibt frei: F3, dann Alt+F dort, wo Stufen gewählt werden.</translation>
  </message>
  <message>
   <source>Open  (Enter)</source>
   <translation>Öffnen  (Enter)</translation>
  </message>
  <message>
   <source>Open it  (Enter)</source>
   <translation>Öffnen  (Enter)</translation>
  </message>
  <message>
   <source>Opening …</source>
   <translation>Wird geöffnet …</translation>
  </message>
  <message>
   <source>Or sit on a chair and press lightly: {named} foot.</source>
   <translation>Oder setzen Sie sich auf einen Stuhl und drücken leicht: {named}er Fuß.</translation>
  </message>
  <message>
   <source>Other scales  (O)</source>
   <translation>Andere Waagen  (O)</translation>
  </message>
  <message>
   <source>Over each other: {of}</source>
   <translation>Übereinander: {of}</translation>
  </message>
  <message>
   <source>Over the &amp;weeks</source>
   <translation>Über die &amp;Wochen</translation>
  </message>
  <message>
   <source>Over the limit of the stage on {days}.</source>
   <translation>Über der Grenze der Stufe am {days}.</translation>
  </message>
  <message>
   <source>Over the limit of {limit:.1f} kg on the {injured} foot: take weight off.</source>
   <translation>Über der Grenze von {limit:.1f} kg auf dem {injured}en Fuß: Gewicht wegnehmen.</translation>
  </message>
  <message>
   <source>Over {days} days, {first} to {last}: {value} (k = 2).</source>
   <translation>Über {days} Tage, {first} bis {last}: {value} (k = 2).</translation>
  </message>
  <message>
   <source>Over {limit} {times}{most}, for {lasted:.1f} s in all.</source>
   <translation>Über {limit} {times}{most}, zusammen {lasted:.1f} s.</translation>
  </message>
  <message>
   <source>Overdue: it was valid until {day}. Calibrate it anew</source>
   <translation>Überfällig: gültig war sie bis {day}. Kalibrieren Sie neu</translation>
  </message>
  <message>
   <source>Pain</source>
   <translation>Schmerz</translation>
  </message>
  <message>
   <source>Pain before</source>
   <translation>Schmerz davor</translation>
  </message>
  <message>
   <source>Pain limit</source>
   <translation>Schmerzgrenze</translation>
  </message>
  <message>
   <source>Pain now, after it</source>
   <translation>Schmerz jetzt, danach</translation>
  </message>
  <message>
   <source>Pain on the &amp;morning after {day} …</source>
   <translation>Schmerz am &amp;Morgen nach {day} …</translation>
  </message>
  <message>
   <source>Pain on the next morning</source>
   <translation>Schmerz am nächsten Morgen</translation>
  </message>
  <message numerus="yes">
   <source>Pain was told of in {told} of {n} sessions, {most} of 10 at most.</source>
   <comment>counted</comment>
   <translation>
    <numerusform>Zum Schmerz wurde in {told} von {n} Sitzung etwas gesagt, höchstens {most} von 10.</numerusform>
    <numerusform>Zum Schmerz wurde in {told} von {n} Sitzungen etwas gesagt, höchstens {most} von 10.</numerusform>
   </translation>
  </message>
  <message>
   <source>Pain: 0 is none, 10 the worst you can think of.</source>
   <translation>Schmerz: 0 heißt keiner, 10 der schlimmste, den Sie sich vorstellen können.</translation>
  </message>
  <message>
   <source>Pain: {limit} of 10 at most.</source>
   <translation>Schmerz: höchstens {limit} von 10.</translation>
  </message>
  <message>
   <source>Patients</source>
   <translation>Personen</translation>
  </message>
  <message>
   <source>Patients (F&amp;6)</source>
   <translation>Personen (F&amp;6)</translation>
  </message>
  <message>
   <source>Patients: for the clinician</source>
   <translation>Patienten: für die Fachperson</translation>
  </message>
  <message>
   <source>Place</source>
   <translation>Aufstellen</translation>
  </message>
  <message>
   <source>Please stay off the plates.</source>
   <translation>Bitte bleiben Sie von den Platten weg.</translation>
  </message>
  <message>
   <source>Practice does not begin while this stands.</source>
   <translation>Das Üben beginnt nicht, solange dies besteht.</translation>
  </message>
  <message>
   <source>Practice needs scales that send and are calibrated. Ask your clinician to calibrate them.</source>
   <translation>Zum Üben braucht es Waagen, die senden und kalibriert sind. Bitten Sie Ihre Fachperson, sie zu kalibrieren.</translation>
  </message>
  <message>
   <source>Practice needs scales that send and are calibrated: C calibrates the one that is marked.</source>
   <translation>Zum Üben braucht es Waagen, die senden und kalibriert sind: C kalibriert die markierte.</translation>
  </message>
  <message>
   <source>Practise  (Enter)</source>
   <translation>Üben  (Enter)</translation>
  </message>
  <message>
   <source>Practise all the same  (Enter)</source>
   <translation>Trotzdem üben  (Enter)</translation>
  </message>
  <message>
   <source>Practise this stage  (Enter)</source>
   <translation>Diese Stufe üben  (Enter)</translation>
  </message>
  <message>
   <source>Practise this stage  (F5)</source>
   <translation>Diese Stufe üben  (F5)</translation>
  </message>
  <message>
   <source>Practise witho&amp;ut {code}</source>
   <translation>&amp;Ohne {code} üben</translation>
  </message>
  <message numerus="yes">
   <source>Practised on {count} of {n} days.</source>
   <comment>counted</comment>
   <translation>
    <numerusform>An {count} von {n} Tag geübt.</numerusform>
    <numerusform>An {count} von {n} Tagen geübt.</numerusform>
   </translation>
  </message>
  <message>
   <source>Press Esc, and try again.</source>
   <translation>Drücken Sie Esc und versuchen Sie es erneut.</translation>
  </message>
  <message>
   <source>Press F5 to try again.</source>
   <translation>Drücken Sie F5, um es erneut zu versuchen.</translation>
  </message>
  <message>
   <source>Press lightly with your {named} foot.</source>
   <translation>Drücken Sie leicht mit dem {named}en Fuß.</translation>
  </message>
  <message>
   <source>Programmes and their stages</source>
   <translation>Programme und ihre Stufen</translation>
  </message>
  <message>
   <source>Put both feet on the plates.</source>
   <translation>Stellen Sie beide Füße auf die Platten.</translation>
  </message>
  <message>
   <source>Put more weight on your {injured} foot.</source>
   <translation>Mehr Gewicht auf den {injured}en Fuß.</translation>
  </message>
  <message>
   <source>Put right: misspelt keys are mended, others go</source>
   <translation>Berichtigen: verschriebene Schlüssel ersetzen, andere entfernen</translation>
  </message>
  <message>
   <source>Put the plates on a level, hard floor.</source>
   <translation>Die Platten auf einen ebenen, harten Boden.</translation>
  </message>
  <message>
   <source>R&amp;uler</source>
   <translation>&amp;Lineal</translation>
  </message>
  <message>
   <source>Raise both heels.</source>
   <translation>Heben Sie beide Fersen.</translation>
  </message>
  <message>
   <source>Raise on one leg</source>
   <translation>Heben auf einem Bein</translation>
  </message>
  <message>
   <source>Raise on one leg with added weight</source>
   <translation>Heben auf einem Bein mit Zusatzgewicht</translation>
  </message>
  <message>
   <source>Raise on one leg, knee bent</source>
   <translation>Heben auf einem Bein, Knie gebeugt</translation>
  </message>
  <message>
   <source>Raise on one leg, on a step</source>
   <translation>Heben auf einem Bein, auf einer Stufe</translation>
  </message>
  <message>
   <source>Raise on two legs</source>
   <translation>Heben auf zwei Beinen</translation>
  </message>
  <message>
   <source>Raise on two legs, knees bent</source>
   <translation>Heben auf zwei Beinen, Knie gebeugt</translation>
  </message>
  <message>
   <source>Raise on two legs, on a step</source>
   <translation>Heben auf zwei Beinen, auf einer Stufe</translation>
  </message>
  <message>
   <source>Raise on two legs, slowly</source>
   <translation>Heben auf zwei Beinen, langsam</translation>
  </message>
  <message>
   <source>Re&amp;petitions from</source>
   <translation>&amp;Wiederholungen aus</translation>
  </message>
  <message>
   <source>Read. Go on  (Space)</source>
   <translation>Gelesen. Weiter  (Leertaste)</translation>
  </message>
  <message>
   <source>Readings are missing from channel {channels}: look at the cable of that cell</source>
   <translation>Von Kanal {channels} fehlen Messwerte: Sehen Sie nach dem Kabel dieser Zelle</translation>
  </message>
  <message>
   <source>Ready</source>
   <translation>Bereit</translation>
  </message>
  <message>
   <source>Reason</source>
   <translation>Begründung</translation>
  </message>
  <message>
   <source>Recording stopped before the session did; what came after is missing.</source>
   <translation>Die Aufzeichnung endete vor der Sitzung; was danach kam, fehlt.</translation>
  </message>
  <message>
   <source>Recovered: {names}</source>
   <translation>Wiederhergestellt: {names}</translation>
  </message>
  <message>
   <source>Remarks</source>
   <translation>Bemerkungen</translation>
  </message>
  <message>
   <source>Repetitions</source>
   <translation>Wiederholungen</translation>
  </message>
  <message>
   <source>Repetitions from</source>
   <translation>Wiederholungen aus</translation>
  </message>
  <message>
   <source>Repetitions from forces alone</source>
   <translation>Wiederholungen nur aus Kräften</translation>
  </message>
  <message>
   <source>Repetitions from the metronome need a tempo</source>
   <translation>Wiederholungen nach dem Metronom brauchen ein Tempo</translation>
  </message>
  <message>
   <source>Reps</source>
   <translation>Wdh.</translation>
  </message>
  <message>
   <source>Rest</source>
   <translation>Pause</translation>
  </message>
  <message>
   <source>Rest between sets</source>
   <translation>Pause zwischen Sätzen</translation>
  </message>
  <message>
   <source>Rest, both feet down if you like.</source>
   <translation>Pause, gern beide Füße ab.</translation>
  </message>
  <message>
   <source>Rest. When this clock runs out, set {number} begins.</source>
   <translation>Pause. Ist diese Uhr abgelaufen, beginnt Satz {number}.</translation>
  </message>
  <message>
   <source>Rest. When this clock runs out, set {number} waits for you.</source>
   <translation>Pause. Ist diese Uhr abgelaufen, wartet Satz {number} auf Sie.</translation>
  </message>
  <message>
   <source>Rest. When this clock runs out, set {number}, on the {leg} foot, begins.</source>
   <translation>Pause. Ist diese Uhr abgelaufen, beginnt Satz {number}, auf dem {leg}en Fuß.</translation>
  </message>
  <message>
   <source>Rest. When this clock runs out, set {number}, on the {leg} foot, waits for you.</source>
   <translation>Pause. Ist diese Uhr abgelaufen, wartet Satz {number}, auf dem {leg}en Fuß, auf Sie.</translation>
  </message>
  <message>
   <source>Right</source>
   <translation>Rechts</translation>
  </message>
  <message>
   <source>Rise and sit down slowly, the same weight on both feet.</source>
   <translation>Stehen Sie langsam auf und setzen Sie sich langsam, gleich viel Gewicht auf beiden Füßen.</translation>
  </message>
  <message>
   <source>Rise from a chair evenly</source>
   <translation>Gleichmäßig vom Stuhl aufstehen</translation>
  </message>
  <message>
   <source>Rise in {left}.</source>
   <translation>Hoch in {left}.</translation>
  </message>
  <message>
   <source>Rise on both feet when ready.</source>
   <translation>Auf beiden Füßen hoch, wenn Sie bereit sind.</translation>
  </message>
  <message>
   <source>Rise on both feet, share your weight evenly, and hold.</source>
   <translation>Auf beiden Füßen hoch, Gewicht gleich verteilen und halten.</translation>
  </message>
  <message>
   <source>S&amp;ets</source>
   <translation>&amp;Sätze</translation>
  </message>
  <message>
   <source>S&amp;tage</source>
   <translation>S&amp;tufe</translation>
  </message>
  <message>
   <source>Sa&amp;y it</source>
   <translation>Sa&amp;gen</translation>
  </message>
  <message>
   <source>Saturday</source>
   <translation>Samstag</translation>
  </message>
  <message>
   <source>Save as a new file  (Ctrl+S)</source>
   <translation>Als neue Datei speichern  (Strg+S)</translation>
  </message>
  <message>
   <source>Say beside the figures what they are worth (V)</source>
   <translation>Neben den Zahlen sagen, was sie wert sind (V)</translation>
  </message>
  <message>
   <source>Say who frees it: name or initials.</source>
   <translation>Sagen Sie, wer freigibt: Name oder Kürzel.</translation>
  </message>
  <message>
   <source>Say why, and who: name or initials.</source>
   <translation>Sagen Sie warum, und wer: Name oder Kürzel.</translation>
  </message>
  <message>
   <source>Scale {name}</source>
   <translation>Waage {name}</translation>
  </message>
  <message>
   <source>Scale {name}, calibrated on {day}{made_by}.</source>
   <translation>Waage {name}, kalibriert am {day}{made_by}.</translation>
  </message>
  <message>
   <source>Scale {scale}: calibrated on {day}, {state}</source>
   <translation>Waage {scale}: kalibriert am {day}, {state}</translation>
  </message>
  <message>
   <source>Seconds up, at the top, down, and at the bottom, as in 1-1-3-1; or own pace</source>
   <translation>Sekunden hoch, oben, ab und unten, wie in 1-1-3-1; oder eigenes Tempo</translation>
  </message>
  <message>
   <source>Seek help at once for a sudden snap, a hot swollen calf, new numbness or breathlessness.</source>
   <translation>Holen Sie sofort Hilfe bei plötzlichem Reißen, heißer geschwollener Wade, neuer Taubheit oder Atemnot.</translation>
  </message>
  <message>
   <source>September</source>
   <translation>September</translation>
  </message>
  <message>
   <source>Sessions</source>
   <translation>Sitzungen</translation>
  </message>
  <message>
   <source>Set a passphrase. With it you unlock stage, target, limit of load and side; without it a patient practises what you have set, and nothing else. Then choose what is to be done, and press F3 to lock.</source>
   <translation>Setzen Sie ein Kennwort. Damit entsperren Sie Stufe, Ziel, Belastungsgrenze und Seite; ohne es wird geübt, was Sie festgelegt haben, und nichts anderes. Wählen Sie dann, was zu tun ist, und sperren Sie mit F3.</translation>
  </message>
  <message>
   <source>Set it  (Enter)</source>
   <translation>Setzen  (Enter)</translation>
  </message>
  <message>
   <source>Set only the left foot on its plate, and lift it again. Stay on the chair.</source>
   <translation>Setzen Sie nur den linken Fuß auf seine Platte und heben Sie ihn wieder. Bleiben Sie auf dem Stuhl.</translation>
  </message>
  <message>
   <source>Set {number} of {asked}, {leg} foot: get ready.</source>
   <translation>Satz {number} von {asked}, {leg}er Fuß: bereit machen.</translation>
  </message>
  <message>
   <source>Set {number} of {asked}: get ready.</source>
   <translation>Satz {number} von {asked}: bereit machen.</translation>
  </message>
  <message>
   <source>Set {number} of {sets}</source>
   <translation>Satz {number} von {sets}</translation>
  </message>
  <message>
   <source>Set {number}, last {each} against first {each}: {said}.</source>
   <translation>Satz {number}, letzte {each} gegen erste {each}: {said}.</translation>
  </message>
  <message>
   <source>Sets</source>
   <translation>Sätze</translation>
  </message>
  <message>
   <source>Sets without &amp;help</source>
   <translation>Sätze ohne &amp;Hilfe</translation>
  </message>
  <message>
   <source>Sets without help</source>
   <translation>Sätze ohne Hilfe</translation>
  </message>
  <message>
   <source>Settled readings have no course to look back at: {words}.</source>
   <translation>Ruhige Messwerte haben keinen Verlauf zum Zurückblicken: {words}.</translation>
  </message>
  <message>
   <source>Settled readings only: this kind of scale cannot time a hold, count a repetition, or follow you while you move.</source>
   <translation>Nur ruhige Messwerte: Eine solche Waage kann kein Halten messen, keine Wiederholung zählen und Ihnen nicht in der Bewegung folgen.</translation>
  </message>
  <message>
   <source>Shaded: within this band about the first day a later one cannot be told apart from it. It comes from this patient's own days (minimal detectable change). A real change is one of what was measured, and no permission.</source>
   <translation>Schattiert: Innerhalb dieses Bands um den ersten Tag ist ein späterer nicht von ihm zu unterscheiden. Es kommt aus den eigenen Tagen dieser Person (kleinste erkennbare Änderung). Eine echte Änderung ist eine des Gemessenen und keine Erlaubnis.</translation>
  </message>
  <message>
   <source>Share</source>
   <translation>Anteil</translation>
  </message>
  <message>
   <source>Shares are of the side that a session follows: it is chosen below, before practice.</source>
   <translation>Anteile gelten für die Seite, der eine Sitzung folgt: Sie wird unten vor dem Üben gewählt.</translation>
  </message>
  <message>
   <source>Shares are of the {side} side: the newest session followed it. Those of the other side are left out.</source>
   <translation>Anteile gelten für die {side} Seite: Ihr folgte die neueste Sitzung. Sitzungen der anderen Seite zählen nicht mit.</translation>
  </message>
  <message>
   <source>Shift once more, slowly, to be sure.</source>
   <translation>Noch einmal langsam verlagern, um sicher zu sein.</translation>
  </message>
  <message>
   <source>Shift your weight slowly to the {toward}, to {most:.0f} %.</source>
   <translation>Verlagern Sie Ihr Gewicht langsam nach {toward}s, auf {most:.0f} %.</translation>
  </message>
  <message>
   <source>Short name</source>
   <translation>Kurzname</translation>
  </message>
  <message>
   <source>Si&amp;gn …</source>
   <translation>&amp;Unterschreiben …</translation>
  </message>
  <message>
   <source>Side</source>
   <translation>Seite</translation>
  </message>
  <message>
   <source>Sign it now (Alt+&amp;G)</source>
   <translation>Jetzt unterschreiben (Alt+&amp;G)</translation>
  </message>
  <message>
   <source>Sign it with name or initials.</source>
   <translation>Unterschreiben Sie mit Name oder Kürzel.</translation>
  </message>
  <message>
   <source>Signed &amp;by</source>
   <translation>Untersc&amp;hrieben von</translation>
  </message>
  <message>
   <source>Signed and kept. What {code} practises is as it was: Change is for that.</source>
   <translation>Unterschrieben und aufbewahrt. Was {code} übt, ist wie zuvor: Dafür gibt es „Angaben ändern“.</translation>
  </message>
  <message>
   <source>Signed by</source>
   <translation>Unterschrieben von</translation>
  </message>
  <message>
   <source>Sit down</source>
   <translation>Hinsetzen</translation>
  </message>
  <message>
   <source>Sit down slowly</source>
   <translation>Langsam hinsetzen</translation>
  </message>
  <message>
   <source>Sit on a chair in front of the scales, both feet on the floor beside them.</source>
   <translation>Setzen Sie sich vor den Waagen auf einen Stuhl, beide Füße daneben auf dem Boden.</translation>
  </message>
  <message>
   <source>Sit on a chair, feet on the plates.</source>
   <translation>Setzen Sie sich auf einen Stuhl, Füße auf die Platten.</translation>
  </message>
  <message>
   <source>Sit to stand</source>
   <translation>Aufstehen vom Stuhl</translation>
  </message>
  <message>
   <source>Slowly down</source>
   <translation>Langsam ab</translation>
  </message>
  <message>
   <source>Sole under the &amp;left heel, mm</source>
   <translation>Sohle unter der &amp;linken Ferse, mm</translation>
  </message>
  <message>
   <source>Sole under the &amp;right heel, mm</source>
   <translation>Sohle unter der &amp;rechten Ferse, mm</translation>
  </message>
  <message>
   <source>Something is still to be typed here.</source>
   <translation>Hier fehlt noch eine Angabe.</translation>
  </message>
  <message>
   <source>Sour&amp;ce</source>
   <translation>&amp;Quelle</translation>
  </message>
  <message>
   <source>Source</source>
   <translation>Quelle</translation>
  </message>
  <message>
   <source>Source {source}: {why}</source>
   <translation>Quelle {source}: {why}</translation>
  </message>
  <message>
   <source>Source: {source}.</source>
   <translation>Quelle: {source}.</translation>
  </message>
  <message>
   <source>Sources of numbers</source>
   <translation>Quellen der Zahlen</translation>
  </message>
  <message>
   <source>Space</source>
   <translation>Leertaste</translation>
  </message>
  <message>
   <source>Spo&amp;ken cues</source>
   <translation>Spre&amp;chen</translation>
  </message>
  <message>
   <source>Squat evenly</source>
   <translation>Gleichmäßig beugen</translation>
  </message>
  <message>
   <source>Squat evenly, last set without the screen</source>
   <translation>Gleichmäßig beugen, letzter Satz ohne Bildschirm</translation>
  </message>
  <message>
   <source>Squat with {share}.</source>
   <translation>Kniebeugen mit {share}.</translation>
  </message>
  <message>
   <source>Squats</source>
   <translation>Kniebeugen</translation>
  </message>
  <message>
   <source>Stage</source>
   <translation>Stufe</translation>
  </message>
  <message>
   <source>Stage, target, limit of load and side are locked. The passphrase unlocks them.</source>
   <translation>Stufe, Ziel, Belastungsgrenze und Seite sind gesperrt. Das Kennwort entsperrt sie.</translation>
  </message>
  <message>
   <source>Stages</source>
   <translation>Stufen</translation>
  </message>
  <message>
   <source>Stages (F&amp;2)</source>
   <translation>Stufen (F&amp;2)</translation>
  </message>
  <message>
   <source>Stand and hold</source>
   <translation>Stehen und halten</translation>
  </message>
  <message>
   <source>Stand evenly</source>
   <translation>Gleichmäßig stehen</translation>
  </message>
  <message>
   <source>Stand evenly on both feet, {seconds} s more.</source>
   <translation>Stehen Sie gleichmäßig auf beiden Füßen, noch {seconds} s.</translation>
  </message>
  <message>
   <source>Stand or sit still for a moment.</source>
   <translation>Einen Moment still stehen oder sitzen.</translation>
  </message>
  <message>
   <source>Stand still as you are, {seconds} s more.</source>
   <translation>Bleiben Sie still so stehen, noch {seconds} s.</translation>
  </message>
  <message>
   <source>Stand still on both feet.</source>
   <translation>Stehen Sie still auf beiden Füßen.</translation>
  </message>
  <message>
   <source>Stand still on the plates: it begins by itself.</source>
   <translation>Still auf den Platten stehen: Es beginnt von selbst.</translation>
  </message>
  <message>
   <source>Stand still, most of your weight on the {other} foot.</source>
   <translation>Still stehen, das meiste Gewicht auf dem {other}en Fuß.</translation>
  </message>
  <message>
   <source>Stand still. It begins in {seconds} … Step off to stop it.</source>
   <translation>Still stehen. Es beginnt in {seconds} … Absteigen hält es an.</translation>
  </message>
  <message>
   <source>Stand still: the {other} scale has not settled yet.</source>
   <translation>Still stehen: Die {other}e Waage ist noch nicht zur Ruhe gekommen.</translation>
  </message>
  <message>
   <source>Stand tall</source>
   <translation>Aufrecht stehen</translation>
  </message>
  <message>
   <source>Stand tall and share your weight between both feet.</source>
   <translation>Stehen Sie aufrecht, das Gewicht auf beide Füße verteilt.</translation>
  </message>
  <message>
   <source>Stand tall.</source>
   <translation>Aufrecht stehen.</translation>
  </message>
  <message>
   <source>Stand up</source>
   <translation>Aufstehen</translation>
  </message>
  <message>
   <source>Stand up and sit down with {share}.</source>
   <translation>Aufstehen und hinsetzen mit {share}.</translation>
  </message>
  <message>
   <source>Stand up in {left}.</source>
   <translation>Aufstehen in {left}.</translation>
  </message>
  <message>
   <source>Stand up when you are ready.</source>
   <translation>Stehen Sie auf, wenn Sie bereit sind.</translation>
  </message>
  <message>
   <source>Stand with {share}, and hold.</source>
   <translation>Stehen mit {share}, und halten.</translation>
  </message>
  <message>
   <source>Standing &amp;on</source>
   <translation>&amp;Stand auf</translation>
  </message>
  <message>
   <source>Standing on</source>
   <translation>Stand auf</translation>
  </message>
  <message>
   <source>Standing. No target is set.</source>
   <translation>Sie stehen. Es ist kein Ziel gesetzt.</translation>
  </message>
  <message>
   <source>Start practice</source>
   <translation>Üben beginnen</translation>
  </message>
  <message>
   <source>Stay off the plates until you are asked to step on: the zero is taken first.</source>
   <translation>Bleiben Sie von den Platten weg, bis Sie aufsteigen sollen: Zuerst wird auf null gestellt.</translation>
  </message>
  <message>
   <source>Stay on both feet.</source>
   <translation>Bleiben Sie auf beiden Füßen.</translation>
  </message>
  <message>
   <source>Stay seated</source>
   <translation>Sitzen bleiben</translation>
  </message>
  <message>
   <source>Step on, most of your weight on the {other} foot.</source>
   <translation>Aufsteigen, das meiste Gewicht auf den {other}en Fuß.</translation>
  </message>
  <message>
   <source>Step on: one foot on each plate.</source>
   <translation>Aufsteigen: auf jede Platte ein Fuß.</translation>
  </message>
  <message>
   <source>Stop on pain.</source>
   <translation>Bei Schmerz aufhören.</translation>
  </message>
  <message>
   <source>Strike repetition {number}: it counts no more.</source>
   <translation>Wiederholung {number} streichen: Sie zählt nicht mehr.</translation>
  </message>
  <message>
   <source>Sunday</source>
   <translation>Sonntag</translation>
  </message>
  <message>
   <source>Switch the scales on, or plug them in. Whatever is found appears here by itself.</source>
   <translation>Schalten Sie die Waagen ein, oder stecken Sie sie an. Was gefunden wird, erscheint hier von selbst.</translation>
  </message>
  <message>
   <source>Switch them on, or plug them in.</source>
   <translation>Schalten Sie sie ein, oder stecken Sie sie an.</translation>
  </message>
  <message>
   <source>Switch them on, or plug them in. Practice opens by itself as soon as they are found.</source>
   <translation>Schalten Sie sie ein, oder stecken Sie sie an. Das Üben öffnet von selbst, sobald sie gefunden sind.</translation>
  </message>
  <message>
   <source>Symme&amp;try</source>
   <translation>Symme&amp;trie</translation>
  </message>
  <message>
   <source>TOO MUCH LOAD</source>
   <translation>ZU VIEL LAST</translation>
  </message>
  <message>
   <source>Ta&amp;ke it: {stage}  (Alt+K)</source>
   <translation>Annehmen: {stage}  (Alt+&amp;K)</translation>
  </message>
  <message>
   <source>Tab goes from field to field. Ctrl+S saves, Esc leaves.</source>
   <translation>Tab geht von Feld zu Feld. Strg+S speichert, Esc verlässt.</translation>
  </message>
  <message>
   <source>Tab: the fields   ·   Backspace: back   ·   Esc: leave</source>
   <translation>Tab: die Felder   ·   Rücktaste: zurück   ·   Esc: verlassen</translation>
  </message>
  <message>
   <source>Take correction {number} back: {words}</source>
   <translation>Berichtigung {number} zurücknehmen: {words}</translation>
  </message>
  <message>
   <source>Take it as it lies  (Space)</source>
   <translation>So nehmen  (Leertaste)</translation>
  </message>
  <message>
   <source>Take this criterion away</source>
   <translation>Dieses Kriterium entfernen</translation>
  </message>
  <message>
   <source>Take {off} off {here}</source>
   <translation>Nehmen Sie {off} von {here}</translation>
  </message>
  <message>
   <source>Take {off} off, and lay {what} {where} of {here}</source>
   <translation>Nehmen Sie {off} ab, und legen Sie {what} {where} {here}</translation>
  </message>
  <message>
   <source>Target</source>
   <translation>Ziel</translation>
  </message>
  <message>
   <source>Target load</source>
   <translation>Ziellast</translation>
  </message>
  <message>
   <source>Target share</source>
   <translation>Zielanteil</translation>
  </message>
  <message>
   <source>Tem&amp;po</source>
   <translation>&amp;Tempo</translation>
  </message>
  <message>
   <source>Tempo</source>
   <translation>Tempo</translation>
  </message>
  <message>
   <source>That is no address of a scale. One looks like 192.168.0.20:7000, a port like serial:COM3.</source>
   <translation>Das ist keine Adresse einer Waage. Eine sieht so aus: 192.168.0.20:7000, ein Anschluss so: serial:COM3.</translation>
  </message>
  <message>
   <source>That is not the passphrase.</source>
   <translation>Das ist nicht das Kennwort.</translation>
  </message>
  <message>
   <source>That is what the instrument leaves in doubt: the days scatter by less.</source>
   <translation>Das ist, was das Messgerät offen lässt: Die Tage streuen weniger.</translation>
  </message>
  <message>
   <source>That was my whole weight, both feet  (W)</source>
   <translation>Das war mein ganzes Gewicht, beide Füße  (W)</translation>
  </message>
  <message>
   <source>The clinician's passphrase opens the patients.</source>
   <translation>Das Kennwort der Fachperson öffnet die Patienten.</translation>
  </message>
  <message>
   <source>The decision is signed on the patient's page (F6).</source>
   <translation>Unterschrieben wird die Entscheidung auf der Seite der Patientin oder des Patienten (F6).</translation>
  </message>
  <message>
   <source>The last set is without the screen: keep the feeling.</source>
   <translation>Der letzte Satz ist ohne Bildschirm: Behalten Sie das Gefühl.</translation>
  </message>
  <message>
   <source>The last {each} against the first {each}: {said}.</source>
   <translation>Die letzten {each} gegen die ersten {each}: {said}.</translation>
  </message>
  <message>
   <source>The left foot was felt on it, and on it alone.</source>
   <translation>Der linke Fuß wurde darauf gespürt, und nur darauf.</translation>
  </message>
  <message>
   <source>The left one is {name}</source>
   <translation>Die linke ist {name}</translation>
  </message>
  <message>
   <source>The left plate reads more than the right, %</source>
   <translation>Die linke Platte zeigt mehr als die rechte, %</translation>
  </message>
  <message>
   <source>The legs take turns.</source>
   <translation>Die Beine wechseln sich ab.</translation>
  </message>
  <message>
   <source>The limit of load was passed {times}. Step off now.</source>
   <translation>Die Belastungsgrenze wurde {times} überschritten. Jetzt absteigen.</translation>
  </message>
  <message>
   <source>The limit of load, {much}, was not seen to be passed.</source>
   <translation>Die Belastungsgrenze, {much}, wurde nicht erkennbar überschritten.</translation>
  </message>
  <message>
   <source>The limit of load, {much}, was passed {times}.</source>
   <translation>Die Belastungsgrenze, {much}, wurde {times} überschritten.</translation>
  </message>
  <message>
   <source>The link is lost ({words}); it goes on at this step</source>
   <translation>Die Verbindung ist weg ({words}); es geht bei diesem Schritt weiter</translation>
  </message>
  <message>
   <source>The link is lost. Hold the rail, stand at ease.</source>
   <translation>Verbindung verloren. Festhalten, locker stehen.</translation>
  </message>
  <message>
   <source>The link was lost: this step begins again when it is back</source>
   <translation>Die Verbindung war weg: Dieser Schritt beginnt neu, wenn sie wieder da ist</translation>
  </message>
  <message>
   <source>The load moved while it was measured: this step begins again</source>
   <translation>Die Last bewegte sich während der Messung: Dieser Schritt beginnt neu</translation>
  </message>
  <message>
   <source>The load on it cannot be read{limit}.</source>
   <translation>Die Last darauf kann nicht gelesen werden{limit}.</translation>
  </message>
  <message>
   <source>The load on {other} has changed too: only {here} is touched</source>
   <translation>Auch die Last auf {other} hat sich geändert: Nur an {here} wird gearbeitet</translation>
  </message>
  <message>
   <source>The load on {other} has changed, not that on {here}: it belongs on {here}</source>
   <translation>Die Last auf {other} hat sich geändert, nicht die auf {here}: Sie gehört dorthin</translation>
  </message>
  <message>
   <source>The load still moves: let go of it. Is somebody on the plate, or leaning on it?</source>
   <translation>Die Last bewegt sich noch: loslassen. Ist jemand auf der Platte, oder lehnt jemand daran?</translation>
  </message>
  <message>
   <source>The load was touched after {lasted}. It has to be left alone: this step begins again</source>
   <translation>Die Last wurde nach {lasted} berührt. Sie muss in Ruhe bleiben: Dieser Schritt beginnt neu</translation>
  </message>
  <message numerus="yes">
   <source>The longest pause was {n} days.</source>
   <comment>counted</comment>
   <translation>
    <numerusform>Die längste Pause war {n} Tag.</numerusform>
    <numerusform>Die längste Pause waren {n} Tage.</numerusform>
   </translation>
  </message>
  <message>
   <source>The lowering begins</source>
   <translation>Das Absenken beginnt</translation>
  </message>
  <message>
   <source>The lowering ends</source>
   <translation>Das Absenken endet</translation>
  </message>
  <message>
   <source>The most pain during</source>
   <translation>Der stärkste Schmerz dabei</translation>
  </message>
  <message>
   <source>The next set begins</source>
   <translation>Der nächste Satz beginnt,</translation>
  </message>
  <message>
   <source>The next set does not begin while this stands.</source>
   <translation>Der nächste Satz beginnt nicht, solange dies besteht.</translation>
  </message>
  <message>
   <source>The next set is without the screen.</source>
   <translation>Der nächste Satz ist ohne Bildschirm.</translation>
  </message>
  <message>
   <source>The one before is kept in</source>
   <translation>Die vorherige ist aufbewahrt in</translation>
  </message>
  <message>
   <source>The other plate felt it. Are the plates swapped?</source>
   <translation>Die andere Platte hat es gespürt. Sind die Platten vertauscht?</translation>
  </message>
  <message>
   <source>The plates side by side, 30 mm or more apart; they touch nothing.</source>
   <translation>Die Platten nebeneinander, 30 mm oder mehr auseinander; sie berühren nichts.</translation>
  </message>
  <message>
   <source>The program failed inside: {error}. {advice}</source>
   <translation>Das Programm hat einen inneren Fehler: {error}. {advice}</translation>
  </message>
  <message>
   <source>The program failed inside: {name}. Nothing was changed. Try it again.</source>
   <translation>Das Programm hat einen inneren Fehler: {name}. Es wurde nichts geändert. Versuchen Sie es erneut.</translation>
  </message>
  <message>
   <source>The program failed inside: {name}. Nothing was written.</source>
   <translation>Das Programm hat einen inneren Fehler: {name}. Es wurde nichts geschrieben.</translation>
  </message>
  <message>
   <source>The program was ended in the middle; all of it was made from the raw record afterwards.</source>
   <translation>Das Programm wurde mittendrin beendet; alles wurde nachträglich aus den Rohdaten gemacht.</translation>
  </message>
  <message>
   <source>The programme</source>
   <translation>Das Programm</translation>
  </message>
  <message>
   <source>The right plate felt the left foot: the plates lie the wrong way round</source>
   <translation>Die rechte Platte spürte den linken Fuß: Die Platten liegen verkehrt herum</translation>
  </message>
  <message>
   <source>The rise begins</source>
   <translation>Das Heben beginnt</translation>
  </message>
  <message>
   <source>The rise ends</source>
   <translation>Das Heben endet</translation>
  </message>
  <message>
   <source>The same &amp;again</source>
   <translation>Noch ein&amp;mal</translation>
  </message>
  <message>
   <source>The same shoes each time, or bare feet each time.</source>
   <translation>Jedes Mal dieselben Schuhe, oder jedes Mal barfuß.</translation>
  </message>
  <message>
   <source>The scale has settled. {again}</source>
   <translation>Die Waage ist zur Ruhe gekommen. {again}</translation>
  </message>
  <message>
   <source>The scale under the {side} foot cannot be used.</source>
   <translation>Die Waage unter dem {side}en Fuß kann nicht benutzt werden.</translation>
  </message>
  <message>
   <source>The scales cannot be reached.</source>
   <translation>Die Waagen sind nicht erreichbar.</translation>
  </message>
  <message>
   <source>The scales could not be remembered ({reason}): they have to be set up again next time.</source>
   <translation>Die Waagen konnten nicht gemerkt werden ({reason}): Sie sind beim nächsten Mal neu einzurichten.</translation>
  </message>
  <message>
   <source>The screen straight ahead, at the height of the eyes.</source>
   <translation>Der Bildschirm gerade voraus, auf Augenhöhe.</translation>
  </message>
  <message>
   <source>The session could not be closed in order; its raw record is kept.</source>
   <translation>Die Sitzung konnte nicht ordentlich geschlossen werden; ihre Rohdaten sind aufbewahrt.</translation>
  </message>
  <message>
   <source>The session has ended. Step off when ready.</source>
   <translation>Die Sitzung ist zu Ende. Absteigen, wenn Sie bereit sind.</translation>
  </message>
  <message>
   <source>The session is computed again from its raw record …</source>
   <translation>Die Sitzung wird aus ihren Rohdaten neu berechnet …</translation>
  </message>
  <message>
   <source>The session is kept all the same.</source>
   <translation>Die Sitzung ist trotzdem aufbewahrt.</translation>
  </message>
  <message>
   <source>The sound is off: the alarm for too much load makes none.</source>
   <translation>Der Ton ist aus: Der Alarm bei zu viel Last ist stumm.</translation>
  </message>
  <message>
   <source>The store of patients is sealed</source>
   <translation>Das Verzeichnis der Personen ist versiegelt</translation>
  </message>
  <message>
   <source>The toes against the toe stop: the same place each day.</source>
   <translation>Die Zehen an den Anschlag: jeden Tag dieselbe Stelle.</translation>
  </message>
  <message>
   <source>The treating clinician and the surgeon's protocol decide.</source>
   <translation>Die behandelnde Fachperson und das Nachbehandlungsschema entscheiden.</translation>
  </message>
  <message>
   <source>The treating clinician and the surgeon's protocol decide; none of this is a permission.</source>
   <translation>Die behandelnde Fachperson und das Nachbehandlungsschema entscheiden; nichts davon ist eine Erlaubnis.</translation>
  </message>
  <message>
   <source>The treating clinician decides, and the surgeon's protocol goes first.</source>
   <translation>Die behandelnde Fachperson entscheidet; das Nachbehandlungsschema geht vor.</translation>
  </message>
  <message>
   <source>The treating clinician frees it, and the surgeon's protocol goes first.</source>
   <translation>Die behandelnde Fachperson gibt sie frei; das Nachbehandlungsschema geht vor.</translation>
  </message>
  <message>
   <source>The two are not the same.</source>
   <translation>Die beiden sind nicht gleich.</translation>
  </message>
  <message>
   <source>The two plates are not compared: the limit of load leaves no room. Known masses or a helper can do it.</source>
   <translation>Die beiden Platten werden nicht verglichen: Die Belastungsgrenze lässt keinen Raum. Bekannte Massen oder eine zweite Person können es.</translation>
  </message>
  <message>
   <source>The two plates could not be compared.</source>
   <translation>Die beiden Platten konnten nicht verglichen werden.</translation>
  </message>
  <message>
   <source>The two plates do not read alike.</source>
   <translation>Die beiden Platten messen nicht gleich.</translation>
  </message>
  <message>
   <source>The two plates were found not to read alike.</source>
   <translation>Die beiden Platten messen nicht gleich, wie sich zeigte.</translation>
  </message>
  <message>
   <source>The two plates were not compared.</source>
   <translation>Die beiden Platten wurden nicht verglichen.</translation>
  </message>
  <message>
   <source>The two readings do not belong together. Step off both, and stand on both once more.</source>
   <translation>Die beiden Messwerte gehören nicht zusammen. Von beiden absteigen und noch einmal auf beide stellen.</translation>
  </message>
  <message>
   <source>The virtual scales</source>
   <translation>Die virtuellen Waagen</translation>
  </message>
  <message>
   <source>The warm-up stand: on both feet, as you stand by yourself.</source>
   <translation>Der Aufwärmstand: auf beiden Füßen, so wie Sie von selbst stehen.</translation>
  </message>
  <message>
   <source>The {side} plate may read {by}</source>
   <translation>Die {side}e Platte misst vielleicht {by}</translation>
  </message>
  <message>
   <source>The {side} plate reads {by}</source>
   <translation>Die {side}e Platte misst {by}</translation>
  </message>
  <message>
   <source>The {side} scale could not weigh. Step off until it shows 0, step on again, stand still.</source>
   <translation>Die {side}e Waage konnte nicht wiegen. Absteigen, bis sie 0 zeigt, wieder aufsteigen, still stehen.</translation>
  </message>
  <message>
   <source>The {side} scale sent a reading of {stamp:%Y-%m-%d at %H:%M}, which is not shown. If you were on it just now, its clock is wrong: weigh once more.</source>
   <translation>Die {side}e Waage hat einen Messwert vom {stamp:%d.%m.%Y, %H:%M} gesendet, der nicht gezeigt wird. Standen Sie gerade darauf, geht ihre Uhr falsch: noch einmal wiegen.</translation>
  </message>
  <message>
   <source>The {side} scale sent what cannot be read. {again}</source>
   <translation>Was die {side}e Waage gesendet hat, ist nicht lesbar. {again}</translation>
  </message>
  <message>
   <source>The {side} sole: a number of millimetres, 0 to 100, or nothing.</source>
   <translation>Die {side}e Sohle: eine Zahl in Millimetern, 0 bis 100, oder nichts.</translation>
  </message>
  <message>
   <source>The {spot} of {here} reads {part:.1f} % less than its middle: look for a loose foot or something under the plate, {anyway}</source>
   <translation>{spot:C} {here} zeigt {part:.1f} % weniger als die Mitte: Sehen Sie nach einem losen Fuß oder nach etwas unter der Platte, {anyway}</translation>
  </message>
  <message>
   <source>The {spot} of {here} reads {part:.1f} % more than its middle: look for a loose foot or something under the plate, {anyway}</source>
   <translation>{spot:C} {here} zeigt {part:.1f} % mehr als die Mitte: Sehen Sie nach einem losen Fuß oder nach etwas unter der Platte, {anyway}</translation>
  </message>
  <message>
   <source>Then nothing is written, and what was in force before stays in force.</source>
   <translation>Dann wird nichts geschrieben, und was zuvor galt, gilt weiter.</translation>
  </message>
  <message>
   <source>There are no patients yet. Add one (Alt+A).</source>
   <translation>Es gibt noch keine Personen. Legen Sie eine an (Alt+A).</translation>
  </message>
  <message>
   <source>There is no store of patients yet</source>
   <translation>Es gibt noch kein Verzeichnis der Personen</translation>
  </message>
  <message>
   <source>These are virtual scales, to try it: nothing is remembered of them.</source>
   <translation>Das sind virtuelle Waagen, zum Ausprobieren: Von ihnen wird nichts gemerkt.</translation>
  </message>
  <message>
   <source>These scales cannot be used as they are.</source>
   <translation>So können diese Waagen nicht benutzt werden.</translation>
  </message>
  <message>
   <source>These scales need a calibration first.</source>
   <translation>Diese Waagen brauchen zuerst eine Kalibrierung.</translation>
  </message>
  <message>
   <source>They were found again, each under its foot. Stay off the plates until you are asked to step on.</source>
   <translation>Sie wurden wiedergefunden, jede unter ihrem Fuß. Bleiben Sie von den Platten weg, bis Sie aufsteigen sollen.</translation>
  </message>
  <message>
   <source>This &amp;scale …</source>
   <translation>Diese &amp;Waage …</translation>
  </message>
  <message>
   <source>This is not a certified medical device.</source>
   <translation>Dies ist kein zugelassenes Medizinprodukt.</translation>
  </message>
  <message>
   <source>This one reads one foot: choose the scale of the other foot as well.</source>
   <translation>Diese misst einen Fuß: Wählen Sie auch die Waage des anderen Fußes.</translation>
  </message>
  <message>
   <source>This programme is ready-made and stays as it is. Copy it (Alt+C), then free the stage in your copy.</source>
   <translation>Dieses Programm ist vorgefertigt und bleibt, wie es ist. Kopieren Sie es (Alt+K) und geben Sie die Stufe in Ihrer Kopie frei.</translation>
  </message>
  <message>
   <source>This was the programme's last stage. {decides}</source>
   <translation>Das war die letzte Stufe des Programms. {decides}</translation>
  </message>
  <message>
   <source>Thursday</source>
   <translation>Donnerstag</translation>
  </message>
  <message>
   <source>To bear in mind</source>
   <translation>Zu bedenken</translation>
  </message>
  <message>
   <source>To exhaustion</source>
   <translation>Bis zur Erschöpfung</translation>
  </message>
  <message>
   <source>To free a stage, set the clinician's passphrase first (F3, outside of this page).</source>
   <translation>Um eine Stufe freizugeben, setzen Sie zuerst das Kennwort der Fachperson (F3, außerhalb dieser Seite).</translation>
  </message>
  <message>
   <source>Told by hand, not by a press.</source>
   <translation>Von Hand gesagt, nicht durch Drücken.</translation>
  </message>
  <message>
   <source>Told to the patient</source>
   <translation>Hinweis für Übende</translation>
  </message>
  <message>
   <source>Tolerance of a mean</source>
   <translation>Toleranz eines Mittelwerts</translation>
  </message>
  <message>
   <source>Tolerance of the load</source>
   <translation>Toleranz der Last</translation>
  </message>
  <message>
   <source>Tolerance, live</source>
   <translation>Toleranz beim Üben</translation>
  </message>
  <message>
   <source>Too many wrong ones: the next try in {wait:.0f} s.</source>
   <translation>Zu viele falsche: nächster Versuch in {wait:.0f} s.</translation>
  </message>
  <message>
   <source>Try again (F&amp;5)</source>
   <translation>Erneut versuchen (F&amp;5)</translation>
  </message>
  <message>
   <source>Try it again.</source>
   <translation>Versuchen Sie es erneut.</translation>
  </message>
  <message>
   <source>Try it on virtual scales  (T)</source>
   <translation>Mit virtuellen Waagen ausprobieren  (T)</translation>
  </message>
  <message>
   <source>Tuesday</source>
   <translation>Dienstag</translation>
  </message>
  <message>
   <source>Two clocks agree to {doubt_ms:.1f} ms{cost}.</source>
   <translation>Zwei Uhren stimmen auf {doubt_ms:.1f} ms überein{cost}.</translation>
  </message>
  <message>
   <source>Two scales; how well their clocks agree is not known.</source>
   <translation>Zwei Waagen; wie gut ihre Uhren übereinstimmen, ist nicht bekannt.</translation>
  </message>
  <message>
   <source>Two- or one-sided</source>
   <translation>Zwei- oder einseitig</translation>
  </message>
  <message>
   <source>Type to look for a code, a name, a side, a stage or a day. Up and Down choose, Enter opens, Esc leaves.</source>
   <translation>Tippen Sie, um nach Kürzel, Name, Seite, Stufe oder Tag zu suchen. Auf und Ab wählen, Enter öffnet, Esc verlässt.</translation>
  </message>
  <message>
   <source>Under it the load could not be read {times}.</source>
   <translation>Darunter konnte die Last {times} nicht gelesen werden.</translation>
  </message>
  <message>
   <source>Unlock  (Enter)</source>
   <translation>Entsperren  (Enter)</translation>
  </message>
  <message>
   <source>Up</source>
   <translation>Hoch</translation>
  </message>
  <message>
   <source>Up again</source>
   <translation>Wieder hoch</translation>
  </message>
  <message>
   <source>Up and Down choose a stage, Enter takes it, Esc leaves everything as it was.</source>
   <translation>Auf und Ab wählen eine Stufe, Enter nimmt sie, Esc lässt alles, wie es war.</translation>
  </message>
  <message>
   <source>Up even, lower to target</source>
   <translation>Gleich hoch, mit Ziel ab</translation>
  </message>
  <message>
   <source>Up evenly on both feet, then shift and lower slowly.</source>
   <translation>Auf beiden Füßen gleichmäßig hoch, dann verlagern und langsam ab.</translation>
  </message>
  <message>
   <source>Up in one second, hold, down in three. Evenly all the way.</source>
   <translation>In einer Sekunde hoch, halten, in drei ab. Immer gleichmäßig.</translation>
  </message>
  <message>
   <source>Up in two seconds, hold, down in four. Evenly all the way.</source>
   <translation>In zwei Sekunden hoch, halten, in vier ab. Immer gleichmäßig.</translation>
  </message>
  <message>
   <source>Up on two legs, down on one</source>
   <translation>Auf zwei Beinen hoch, auf einem ab</translation>
  </message>
  <message>
   <source>Up on two legs, down on one, on a step</source>
   <translation>Auf zwei Beinen hoch, auf einem ab, auf einer Stufe</translation>
  </message>
  <message>
   <source>Up on two, down on one</source>
   <translation>Hoch auf zwei, ab auf eins</translation>
  </message>
  <message>
   <source>Up on your {working_side} foot.</source>
   <translation>Hoch auf dem {working_side}en Fuß.</translation>
  </message>
  <message>
   <source>Up, Down: choose   Enter: open   Esc: leave</source>
   <translation>Auf, Ab: wählen   Enter: öffnen   Esc: verlassen</translation>
  </message>
  <message>
   <source>Up, Down: which edge   Left, Right: move it by 0.01 s, with Shift by 0.1 s   Enter: done   Esc: as it was</source>
   <translation>Auf, Ab: welche Kante   Links, Rechts: um 0,01 s verschieben, mit Umschalt um 0,1 s   Enter: fertig   Esc: wie es war</translation>
  </message>
  <message>
   <source>Valid until {day}: have it calibrated soon</source>
   <translation>Gültig bis {day}: bald kalibrieren lassen</translation>
  </message>
  <message>
   <source>Varies from day to day: {words}.</source>
   <translation>Schwankt von Tag zu Tag: {words}.</translation>
  </message>
  <message>
   <source>Version</source>
   <translation>Version</translation>
  </message>
  <message>
   <source>Virtual person</source>
   <translation>Virtuelle Person</translation>
  </message>
  <message>
   <source>Virtual scales</source>
   <translation>Virtuelle Waagen</translation>
  </message>
  <message>
   <source>Virtual scales, virtual person: {person}</source>
   <translation>Virtuelle Waagen, virtuelle Person: {person}</translation>
  </message>
  <message>
   <source>Wait: the scales give no reading.</source>
   <translation>Warten: Die Waagen liefern keinen Messwert.</translation>
  </message>
  <message>
   <source>Waiting for the load</source>
   <translation>Wartet auf die Last</translation>
  </message>
  <message>
   <source>Waiting for the scale</source>
   <translation>Wartet auf die Waage</translation>
  </message>
  <message>
   <source>Waiting until it is still</source>
   <translation>Wartet, bis es ruhig liegt</translation>
  </message>
  <message>
   <source>Waiting until it lies there</source>
   <translation>Wartet, bis es daliegt</translation>
  </message>
  <message>
   <source>Warm-up stand</source>
   <translation>Aufwärmstand</translation>
  </message>
  <message>
   <source>Wednesday</source>
   <translation>Mittwoch</translation>
  </message>
  <message>
   <source>Well done. Step off when you are ready.</source>
   <translation>Gut gemacht. Absteigen, wenn Sie bereit sind.</translation>
  </message>
  <message>
   <source>What</source>
   <translation>Was</translation>
  </message>
  <message>
   <source>What is done</source>
   <translation>Was geübt wird</translation>
  </message>
  <message>
   <source>What is known of {code}</source>
   <translation>Was von {code} bekannt ist</translation>
  </message>
  <message>
   <source>What is measured</source>
   <translation>Was gemessen wird</translation>
  </message>
  <message>
   <source>When</source>
   <translation>Wann</translation>
  </message>
  <message>
   <source>Where everything stands</source>
   <translation>Wo alles steht</translation>
  </message>
  <message>
   <source>Whether that is a change is not known: {why}.</source>
   <translation>Ob das eine Änderung ist, ist nicht bekannt: {why}.</translation>
  </message>
  <message>
   <source>Who l&amp;ooked</source>
   <translation>We&amp;r nachgesehen hat</translation>
  </message>
  <message>
   <source>With support</source>
   <translation>Mit Abstützung</translation>
  </message>
  <message>
   <source>With {added_weight:.3g} kg added.</source>
   <translation>Mit {added_weight:.3g} kg Zusatzgewicht.</translation>
  </message>
  <message>
   <source>Working leg</source>
   <translation>Arbeitendes Bein</translation>
  </message>
  <message>
   <source>X: strike   E: move its phases   U: take its newest correction back   Up, Down: next   Esc: list</source>
   <translation>X: streichen   E: Phasen verschieben   U: neueste Berichtigung zurücknehmen   Auf, Ab: nächste   Esc: Liste</translation>
  </message>
  <message>
   <source>You may stop: {reason}.</source>
   <translation>Sie dürfen aufhören: {reason}.</translation>
  </message>
  <message>
   <source>Your scales are ready</source>
   <translation>Ihre Waagen sind bereit</translation>
  </message>
  <message>
   <source>Zero since the calibration, N</source>
   <translation>Null seit der Kalibrierung, N</translation>
  </message>
  <message>
   <source>a cell does not answer: check its plug inside the scale</source>
   <translation>eine Zelle antwortet nicht: Prüfen Sie ihren Stecker in der Waage</translation>
  </message>
  <message>
   <source>a cell is overloaded: take everything off</source>
   <translation>eine Zelle ist überlastet: Nehmen Sie alles ab</translation>
  </message>
  <message>
   <source>a class as in M1, or a standard uncertainty as in 0.05 kg, 20 g or 1 %</source>
   <translation>eine Klasse wie M1, oder eine Standardunsicherheit wie 0,05 kg, 20 g oder 1 %</translation>
  </message>
  <message>
   <source>a date like 2026-11-24, or nothing</source>
   <translation>ein Datum wie 2026-11-24, oder nichts</translation>
  </message>
  <message>
   <source>a date, as in 2026-11-24</source>
   <translation>ein Datum, wie in 2026-11-24</translation>
  </message>
  <message>
   <source>a day</source>
   <translation>ein Tag</translation>
  </message>
  <message>
   <source>a fault was marked</source>
   <translation>ein Fehler wurde vermerkt</translation>
  </message>
  <message>
   <source>a foot left the plates</source>
   <translation>ein Fuß verließ die Platten</translation>
  </message>
  <message>
   <source>a forward lean</source>
   <translation>nach vorn gelehnt</translation>
  </message>
  <message>
   <source>a half-way pause and return</source>
   <translation>auf halbem Weg angehalten und zurück</translation>
  </message>
  <message>
   <source>a height alone tells no gravity: the latitude as well, please</source>
   <translation>eine Höhe allein sagt nichts über die Schwerkraft: bitte auch den Breitengrad</translation>
  </message>
  <message>
   <source>a height falls within a set: compare sets of as many repetitions</source>
   <translation>eine Höhe nimmt im Satz ab: Sätze mit gleich vielen Wiederholungen vergleichen</translation>
  </message>
  <message>
   <source>a list of "one-leg", "step", "below-level", "stage"</source>
   <translation>eine Liste aus "one-leg", "step", "below-level", "stage"</translation>
  </message>
  <message>
   <source>a list of whole numbers from 1 to 20, as in [2, 3]</source>
   <translation>eine Liste ganzer Zahlen von 1 bis 20, wie in [2, 3]</translation>
  </message>
  <message>
   <source>a low-pass at {cutoff} Hz needs over {rate} samples a second</source>
   <translation>ein Tiefpass bei {cutoff} Hz braucht über {rate} Messwerte pro Sekunde</translation>
  </message>
  <message>
   <source>a number from 0 to 100 percent</source>
   <translation>eine Zahl von 0 bis 100 Prozent</translation>
  </message>
  <message>
   <source>a number from 0 to 1800 s</source>
   <translation>eine Zahl von 0 bis 1800 s</translation>
  </message>
  <message>
   <source>a number from 0 to 400 kg</source>
   <translation>eine Zahl von 0 bis 400 kg</translation>
  </message>
  <message>
   <source>a number from 0 to 60 s</source>
   <translation>eine Zahl von 0 bis 60 s</translation>
  </message>
  <message>
   <source>a number from 0.1 to 200 kg</source>
   <translation>eine Zahl von 0.1 bis 200 kg</translation>
  </message>
  <message>
   <source>a number from 0.1 to 50 points</source>
   <translation>eine Zahl von 0.1 bis 50 Punkten</translation>
  </message>
  <message>
   <source>a number from 1 to 3600 s</source>
   <translation>eine Zahl von 1 bis 3600 s</translation>
  </message>
  <message>
   <source>a number from 3 to 120 s</source>
   <translation>eine Zahl von 3 bis 120 s</translation>
  </message>
  <message>
   <source>a number from 30 to 300 mm</source>
   <translation>eine Zahl von 30 bis 300 mm</translation>
  </message>
  <message>
   <source>a pack or a vest; it is no body weight</source>
   <translation>ein Rucksack oder eine Weste; kein Körpergewicht</translation>
  </message>
  <message>
   <source>a pack, a vest</source>
   <translation>ein Rucksack, eine Weste</translation>
  </message>
  <message>
   <source>a part of the weight was elsewhere: on a rail, a crutch or the floor</source>
   <translation>ein Teil des Gewichts war anderswo: auf Geländer, Stütze oder Boden</translation>
  </message>
  <message>
   <source>a part of the weight was on a rail or a crutch for some of it</source>
   <translation>ein Teil des Gewichts lag zeitweise auf einem Geländer oder einer Krücke</translation>
  </message>
  <message>
   <source>a peak is one moment, and a sway: look at the mean</source>
   <translation>ein Höchstwert ist ein Augenblick und ein Schwanken: Der Mittelwert zählt</translation>
  </message>
  <message>
   <source>a practiser</source>
   <translation>jemand, der übt</translation>
  </message>
  <message>
   <source>a real change</source>
   <translation>eine echte Änderung</translation>
  </message>
  <message>
   <source>a scale for one foot or both: choose it to see</source>
   <translation>eine Waage für einen Fuß oder beide: wählen, um es zu sehen</translation>
  </message>
  <message>
   <source>a scale is heard, but does not say which it is; switch it off and on again</source>
   <translation>eine Waage ist zu hören, sagt aber nicht, welche sie ist; schalten Sie sie aus und wieder ein</translation>
  </message>
  <message>
   <source>a set goes on until it is ended, or a stopping rule is met</source>
   <translation>ein Satz geht weiter, bis er beendet wird oder eine Abbruchregel erfüllt ist</translation>
  </message>
  <message>
   <source>a share needs a side to be a share of; with both injured there is none to hold it against</source>
   <translation>ein Anteil braucht eine Seite, deren Anteil er ist; sind beide verletzt, gibt es keine zum Vergleich</translation>
  </message>
  <message>
   <source>a share of a repetition is not known: too little of its phase was read</source>
   <translation>ein Anteil einer Wiederholung ist nicht bekannt: Von ihrer Phase wurde zu wenig gelesen</translation>
  </message>
  <message>
   <source>a share of a repetition is not known: too little of its phase was read, or the load shifted at its ends</source>
   <translation>ein Anteil einer Wiederholung ist nicht bekannt: Von ihrer Phase wurde zu wenig gelesen, oder die Last verlagerte sich an ihren Enden</translation>
  </message>
  <message>
   <source>a stage of heel raises</source>
   <translation>einer Stufe mit Fersenheben</translation>
  </message>
  <message>
   <source>a stage of repetitions</source>
   <translation>einer Stufe aus Wiederholungen</translation>
  </message>
  <message>
   <source>a stage on one leg to exhaustion</source>
   <translation>einer Stufe auf einem Bein bis zur Erschöpfung</translation>
  </message>
  <message>
   <source>a stage that is held</source>
   <translation>einer Stufe, die gehalten wird</translation>
  </message>
  <message>
   <source>a stage that is held, without support</source>
   <translation>einer Stufe, die ohne Abstützung gehalten wird</translation>
  </message>
  <message>
   <source>a stage with a ceiling</source>
   <translation>einer Stufe mit Belastungsgrenze</translation>
  </message>
  <message>
   <source>a stage with blind sets</source>
   <translation>einer Stufe mit Sätzen ohne Bildschirm</translation>
  </message>
  <message>
   <source>a step, heels over its edge</source>
   <translation>eine Stufe, Fersen über der Kante</translation>
  </message>
  <message>
   <source>a straight line would do as well: the curve does not stand out from the scatter</source>
   <translation>eine Gerade täte es auch: Die Kurve hebt sich nicht von der Streuung ab</translation>
  </message>
  <message>
   <source>a straight line, for want of loads: with three masses or more a curve can be told</source>
   <translation>eine Gerade, mangels Lasten: Mit drei Massen oder mehr lässt sich eine Kurve erkennen</translation>
  </message>
  <message>
   <source>a supported stage</source>
   <translation>einer Stufe mit Abstützung</translation>
  </message>
  <message>
   <source>a whole number from 0 to 10</source>
   <translation>eine ganze Zahl von 0 bis 10</translation>
  </message>
  <message>
   <source>a whole number from 1 to 100</source>
   <translation>eine ganze Zahl von 1 bis 100</translation>
  </message>
  <message>
   <source>a whole number from 1 to 20</source>
   <translation>eine ganze Zahl von 1 bis 20</translation>
  </message>
  <message>
   <source>about {left} min left</source>
   <translation>noch etwa {left} min</translation>
  </message>
  <message>
   <source>about {left} s left</source>
   <translation>noch etwa {left} s</translation>
  </message>
  <message>
   <source>add yourself to its group (`sudo usermod -aG dialout $USER`) and log in again</source>
   <translation>nehmen Sie sich in die Gruppe auf (`sudo usermod -aG dialout $USER`) und melden Sie sich neu an</translation>
  </message>
  <message>
   <source>add yourself to the group bluetooth (sudo usermod -aG bluetooth $USER) and log in again</source>
   <translation>nehmen Sie sich in die Gruppe bluetooth auf (sudo usermod -aG bluetooth $USER) und melden Sie sich neu an</translation>
  </message>
  <message>
   <source>aim {aim:.1f}, {rest}</source>
   <translation>Ziel {aim:.1f}, {rest}</translation>
  </message>
  <message>
   <source>aim {target:g}</source>
   <translation>Ziel {target:g}</translation>
  </message>
  <message>
   <source>aim {target:g}, {rest}</source>
   <translation>Ziel {target:g}, {rest}</translation>
  </message>
  <message>
   <source>all {count} masses ({total})</source>
   <translation>alle {count} Massen ({total})</translation>
  </message>
  <message>
   <source>allow it for this program under System Settings, Privacy &amp; Security, Bluetooth</source>
   <translation>erlauben Sie es diesem Programm in den Systemeinstellungen unter Datenschutz &amp; Sicherheit, Bluetooth</translation>
  </message>
  <message>
   <source>allow it in the settings under Privacy &amp; security; or ask who looks after this computer</source>
   <translation>erlauben Sie es in den Einstellungen unter Datenschutz und Sicherheit; oder fragen Sie, wer diesen Computer betreut</translation>
  </message>
  <message>
   <source>always</source>
   <translation>immer</translation>
  </message>
  <message>
   <source>an equals sign stands behind a key: {words}</source>
   <translation>hinter einem Schlüssel steht ein Gleichheitszeichen: {words}</translation>
  </message>
  <message>
   <source>an even share was asked for and shown: this is what the person can do, not what they do unasked</source>
   <translation>ein gleicher Anteil war verlangt und wurde gezeigt: Das ist, was die Person kann, nicht was sie von selbst tut</translation>
  </message>
  <message>
   <source>and</source>
   <translation>und</translation>
  </message>
  <message>
   <source>and {count} more: weightshare analyse</source>
   <translation>und {count} weitere: weightshare analyse</translation>
  </message>
  <message>
   <source>any stage</source>
   <translation>jeder Stufe</translation>
  </message>
  <message>
   <source>as many as can be done</source>
   <translation>so viele wie möglich</translation>
  </message>
  <message>
   <source>as many as can be done; on one leg the legs take turns</source>
   <translation>so viele wie möglich; auf einem Bein wechseln die Beine sich ab</translation>
  </message>
  <message>
   <source>as on this computer</source>
   <translation>wie der Computer</translation>
  </message>
  <message>
   <source>as you like</source>
   <translation>beliebig</translation>
  </message>
  <message>
   <source>as you start.</source>
   <translation>sobald Sie beginnen.</translation>
  </message>
  <message>
   <source>ask who looks after this computer for the right to use it</source>
   <translation>fragen Sie, wer diesen Computer betreut, nach dem Recht, ihn zu benutzen</translation>
  </message>
  <message>
   <source>asked</source>
   <translation>verlangt</translation>
  </message>
  <message>
   <source>asked: {low:g} to {high:g} %: {said}</source>
   <translation>verlangt: {low:g} bis {high:g} %: {said}</translation>
  </message>
  <message>
   <source>asking for samples</source>
   <translation>fragt nach Messwerten</translation>
  </message>
  <message>
   <source>asking who it is</source>
   <translation>fragt, wer sie ist</translation>
  </message>
  <message>
   <source>asleep, or out of reach: step on it</source>
   <translation>sie schläft oder ist außer Reichweite: Stellen Sie sich darauf</translation>
  </message>
  <message>
   <source>assumed, not measured: {assumed}</source>
   <translation>angenommen, nicht gemessen: {assumed}</translation>
  </message>
  <message>
   <source>at least</source>
   <translation>mindestens</translation>
  </message>
  <message>
   <source>at least {low}</source>
   <translation>mindestens {low}</translation>
  </message>
  <message>
   <source>at least {low} {unit}</source>
   <translation>mindestens {low} {unit}</translation>
  </message>
  <message>
   <source>at least {target:g} % on the {side} foot</source>
   <translation>mindestens {target:g} % auf dem {side}en Fuß</translation>
  </message>
  <message>
   <source>at most</source>
   <translation>höchstens</translation>
  </message>
  <message>
   <source>at most {high}</source>
   <translation>höchstens {high}</translation>
  </message>
  <message>
   <source>at most {high} {unit}</source>
   <translation>höchstens {high} {unit}</translation>
  </message>
  <message>
   <source>at most {load}</source>
   <translation>höchstens {load}</translation>
  </message>
  <message>
   <source>at the bottom</source>
   <translation>unten</translation>
  </message>
  <message>
   <source>at {cursor:.2f} s</source>
   <translation>bei {cursor:.2f} s</translation>
  </message>
  <message>
   <source>band and holds are not known: no target was given</source>
   <translation>Bereich und Halten sind nicht bekannt: Es war kein Ziel gesetzt</translation>
  </message>
  <message>
   <source>battery {battery:.1f} V{low}</source>
   <translation>Batterie {battery:.1f} V{low}</translation>
  </message>
  <message>
   <source>battery {battery} %</source>
   <translation>Batterie {battery} %</translation>
  </message>
  <message>
   <source>bent</source>
   <translation>gebeugt</translation>
  </message>
  <message>
   <source>best heel height</source>
   <translation>größte Fersenhöhe</translation>
  </message>
  <message>
   <source>between-day limits of agreement -6.2 to 6.5 raises (Hebert-Losier and others, 2017; n = 566, healthy)</source>
   <translation>Übereinstimmungsgrenzen zwischen Tagen -6,2 bis 6,5 Hebungen (Hebert-Losier und andere, 2017; n = 566, gesund)</translation>
  </message>
  <message>
   <source>body weight and the part on the plates are not known: there were no three still seconds</source>
   <translation>Körpergewicht und der Teil auf den Platten sind nicht bekannt: Es gab keine drei ruhigen Sekunden</translation>
  </message>
  <message>
   <source>body weight {weight}</source>
   <translation>Körpergewicht {weight}</translation>
  </message>
  <message>
   <source>both</source>
   <translation>beide</translation>
  </message>
  <message>
   <source>both heels went up at once, on two legs: the stronger one can lift the weaker one along</source>
   <translation>beide Fersen gingen zugleich hoch, auf zwei Beinen: Das stärkere kann das schwächere mitheben</translation>
  </message>
  <message>
   <source>both plates</source>
   <translation>beide Platten</translation>
  </message>
  <message>
   <source>both scales are said to be under the {side} foot: one has to be under the other</source>
   <translation>beide Waagen sollen unter dem {side}en Fuß sein: Eine muss unter dem anderen sein</translation>
  </message>
  <message>
   <source>both scales say that they are under the {side} foot; say which is which: Get started in the window, or --sides left,right (or right,left) with the sources</source>
   <translation>beide Waagen geben an, unter dem {side}en Fuß zu sein; sagen Sie, welche welche ist: „Einrichten“ im Fenster, oder --sides left,right (oder right,left) mit den Quellen</translation>
  </message>
  <message>
   <source>both sides are injured: there is no uninjured side to compare with</source>
   <translation>beide Seiten sind verletzt: Es gibt keine unverletzte zum Vergleich</translation>
  </message>
  <message>
   <source>both sides injured</source>
   <translation>beide Seiten verletzt</translation>
  </message>
  <message>
   <source>both sources lead to the same scale, {name}: give another one for one side</source>
   <translation>beide Quellen führen zur selben Waage, {name}: Geben Sie für eine Seite eine andere an</translation>
  </message>
  <message>
   <source>both {name} masses</source>
   <translation>beide Massen von {name}</translation>
  </message>
  <message>
   <source>by Bluetooth</source>
   <translation>über Bluetooth</translation>
  </message>
  <message>
   <source>by cable</source>
   <translation>über Kabel</translation>
  </message>
  <message>
   <source>by hand: {changed}</source>
   <translation>von Hand: {changed}</translation>
  </message>
  <message>
   <source>by hand: {what}</source>
   <translation>von Hand: {what}</translation>
  </message>
  <message>
   <source>by network</source>
   <translation>über Netzwerk</translation>
  </message>
  <message>
   <source>by the forces</source>
   <translation>nach den Kräften</translation>
  </message>
  <message>
   <source>by the heel's height</source>
   <translation>nach der Fersenhöhe</translation>
  </message>
  <message>
   <source>by the metronome</source>
   <translation>nach dem Metronom</translation>
  </message>
  <message>
   <source>calibrated on {made_on}</source>
   <translation>kalibriert am {made_on}</translation>
  </message>
  <message>
   <source>calibrated {made_on}</source>
   <translation>kalibriert {made_on}</translation>
  </message>
  <message>
   <source>calibrated {made_on}{until}</source>
   <translation>kalibriert {made_on}{until}</translation>
  </message>
  <message>
   <source>calibration was valid until {valid_until}: calibrate anew (C)</source>
   <translation>Kalibrierung war gültig bis {valid_until}: neu kalibrieren (C)</translation>
  </message>
  <message>
   <source>calibration was valid until {valid_until}: tell your clinician</source>
   <translation>Kalibrierung war gültig bis {valid_until}: Sagen Sie es Ihrer Fachperson</translation>
  </message>
  <message>
   <source>can be had in {kind} alone</source>
   <translation>gibt es nur bei {kind}</translation>
  </message>
  <message>
   <source>cannot be reached ({why})</source>
   <translation>nicht erreichbar ({why})</translation>
  </message>
  <message>
   <source>cannot be read ({why})</source>
   <translation>nicht lesbar ({why})</translation>
  </message>
  <message>
   <source>cannot be recovered ({why})</source>
   <translation>nicht wiederherzustellen ({why})</translation>
  </message>
  <message>
   <source>cannot be used: see below</source>
   <translation>nicht benutzbar: siehe unten</translation>
  </message>
  <message>
   <source>cannot be written ({why})</source>
   <translation>kann nicht geschrieben werden ({why})</translation>
  </message>
  <message>
   <source>chair</source>
   <translation>Stuhl</translation>
  </message>
  <message>
   <source>channel {index}, under the {side} plate, reads less the more lies on it: are its wires swapped, or was the load on the other plate?</source>
   <translation>Kanal {index}, unter der {side}en Platte, zeigt weniger, je mehr daraufliegt: Sind seine Drähte vertauscht, oder lag die Last auf der anderen Platte?</translation>
  </message>
  <message>
   <source>checking left and right</source>
   <translation>links und rechts werden geprüft</translation>
  </message>
  <message>
   <source>choose a folder that can be written to with --save DIR</source>
   <translation>wählen Sie mit --save DIR einen beschreibbaren Ordner</translation>
  </message>
  <message>
   <source>chosen by you, as in A-017; it tells nobody who it is</source>
   <translation>von Ihnen gewählt, wie A-017; es verrät niemandem, wer es ist</translation>
  </message>
  <message>
   <source>comparing the two plates</source>
   <translation>die beiden Platten werden verglichen</translation>
  </message>
  <message>
   <source>connected</source>
   <translation>verbunden</translation>
  </message>
  <message>
   <source>connecting</source>
   <translation>verbindet</translation>
  </message>
  <message>
   <source>connecting failed ({why}); bring the scale nearer and try again</source>
   <translation>die Verbindung misslang ({why}); bringen Sie die Waage näher und versuchen Sie es erneut</translation>
  </message>
  <message>
   <source>connecting to {name}</source>
   <translation>verbindet mit {name}</translation>
  </message>
  <message>
   <source>connecting was given up</source>
   <translation>die Verbindung wurde aufgegeben</translation>
  </message>
  <message>
   <source>connecting …</source>
   <translation>verbindet …</translation>
  </message>
  <message>
   <source>corner error</source>
   <translation>Eckenfehler</translation>
  </message>
  <message>
   <source>could not weigh, {ago}</source>
   <translation>konnte nicht wiegen, {ago}</translation>
  </message>
  <message>
   <source>counting its samples …</source>
   <translation>zählt ihre Messwerte …</translation>
  </message>
  <message>
   <source>counts come back before work does: look at height and load x heel travel beside it</source>
   <translation>Anzahlen kommen vor der Arbeit zurück: Höhe und Last x Fersenweg mit ansehen</translation>
  </message>
  <message>
   <source>creep</source>
   <translation>Kriechen</translation>
  </message>
  <message>
   <source>crutches, a frame or a rail carry a part: then a load is the target</source>
   <translation>Stützen, Gehgestell oder Geländer tragen einen Teil: Dann ist eine Last das Ziel</translation>
  </message>
  <message>
   <source>curve</source>
   <translation>Krümmung</translation>
  </message>
  <message>
   <source>curve at full range, %</source>
   <translation>Krümmung am Ende des Bereichs, %</translation>
  </message>
  <message>
   <source>cut off at the end</source>
   <translation>am Ende abgeschnitten</translation>
  </message>
  <message>
   <source>dashed: two residual standard deviations</source>
   <translation>gestrichelt: zwei Reststandardabweichungen</translation>
  </message>
  <message>
   <source>date</source>
   <translation>Datum</translation>
  </message>
  <message>
   <source>dated in the future: a clock was wrong</source>
   <translation>in der Zukunft datiert: Eine Uhr ging falsch</translation>
  </message>
  <message>
   <source>does not answer yet: is it switched on, and on the network?</source>
   <translation>antwortet noch nicht: Ist sie eingeschaltet und im Netzwerk?</translation>
  </message>
  <message>
   <source>does not go with supported = true: with a part elsewhere nobody is weighed</source>
   <translation>passt nicht zu supported = true: Ist ein Teil anderswo, wird niemand gewogen</translation>
  </message>
  <message>
   <source>does not go with supported = true: with a part elsewhere the share tells nothing; give a load</source>
   <translation>passt nicht zu supported = true: Ist ein Teil anderswo, sagt der Anteil nichts; geben Sie eine Last an</translation>
  </message>
  <message>
   <source>does not go with to_exhaustion = true: how many can be done is what is asked</source>
   <translation>passt nicht zu to_exhaustion = true: Gefragt ist, wie viele möglich sind</translation>
  </message>
  <message>
   <source>does not go with to_exhaustion = true: the legs take turns, to be compared</source>
   <translation>passt nicht zu to_exhaustion = true: Die Beine wechseln sich ab, zum Vergleich</translation>
  </message>
  <message>
   <source>does not go with to_exhaustion on one leg: it is for the injured one alone</source>
   <translation>passt nicht zu to_exhaustion auf einem Bein: Es gilt nur für das verletzte</translation>
  </message>
  <message>
   <source>does not go with {exercise}: there the working leg carries all</source>
   <translation>passt nicht zu {exercise}: Dort trägt das arbeitende Bein alles</translation>
  </message>
  <message>
   <source>does not know how to start</source>
   <translation>weiß nicht, wie sie starten soll</translation>
  </message>
  <message>
   <source>done</source>
   <translation>fertig</translation>
  </message>
  <message>
   <source>down</source>
   <translation>ab</translation>
  </message>
  <message>
   <source>each one that you lay there, in the order of laying</source>
   <translation>jede, die Sie dort auflegen, in der Reihenfolge des Auflegens</translation>
  </message>
  <message>
   <source>each stage begins with a line [[stages]]</source>
   <translation>jede Stufe beginnt mit einer Zeile [[stages]]</translation>
  </message>
  <message>
   <source>effort</source>
   <translation>Anstrengung</translation>
  </message>
  <message>
   <source>empty</source>
   <translation>leer</translation>
  </message>
  <message>
   <source>ended</source>
   <translation>beendet</translation>
  </message>
  <message>
   <source>even</source>
   <translation>gleich</translation>
  </message>
  <message>
   <source>evenly on both feet</source>
   <translation>gleich auf beiden Füßen</translation>
  </message>
  <message>
   <source>every session keeps it; what was changed has the next one</source>
   <translation>steht in jeder Sitzung; was geändert wurde, hat die nächste</translation>
  </message>
  <message>
   <source>everything</source>
   <translation>alles</translation>
  </message>
  <message>
   <source>expired {day}</source>
   <translation>abgelaufen {day}</translation>
  </message>
  <message>
   <source>fall of the heel's height within a set</source>
   <translation>Abfall der Fersenhöhe innerhalb eines Satzes</translation>
  </message>
  <message>
   <source>fall of the share within a set</source>
   <translation>Abfall des Anteils innerhalb eines Satzes</translation>
  </message>
  <message>
   <source>fatigue in a set is not known: it takes {least} repetitions or more</source>
   <translation>Ermüdung in einem Satz ist nicht bekannt: Dazu braucht es {least} Wiederholungen oder mehr</translation>
  </message>
  <message>
   <source>figures of a set are not known: no repetition counted in it</source>
   <translation>Zahlen eines Satzes sind nicht bekannt: Keine Wiederholung zählte darin</translation>
  </message>
  <message>
   <source>finds the start command too short or too long</source>
   <translation>findet den Startbefehl zu kurz oder zu lang</translation>
  </message>
  <message>
   <source>firmware {version}</source>
   <translation>Firmware {version}</translation>
  </message>
  <message>
   <source>for commands and files: small letters, digits and hyphens, as in lowering-75</source>
   <translation>für Befehle und Dateien: kleine Buchstaben, Ziffern und Bindestriche, etwa lowering-75</translation>
  </message>
  <message>
   <source>for stages that have none of their own; over it, rest and ask</source>
   <translation>für Stufen ohne eigene; darüber: ruhen und fragen</translation>
  </message>
  <message>
   <source>for the clinician to judge</source>
   <translation>zur Beurteilung durch die Fachperson</translation>
  </message>
  <message>
   <source>for the criteria: 5 points for a target up to 75 %, 2.5 above, unless you set it</source>
   <translation>für die Kriterien: 5 Punkte bis zu einem Ziel von 75 %, darüber 2,5, wenn nichts gesetzt ist</translation>
  </message>
  <message>
   <source>for you to judge: {words}</source>
   <translation>von Ihnen zu beurteilen: {words}</translation>
  </message>
  <message>
   <source>force: on a step the load is on the forefoot all the time; take height or paced</source>
   <translation>force: Auf einer Stufe liegt die Last die ganze Zeit auf dem Vorfuß; nehmen Sie height oder paced</translation>
  </message>
  <message>
   <source>forces alone</source>
   <translation>nur Kräfte</translation>
  </message>
  <message>
   <source>found</source>
   <translation>gefunden</translation>
  </message>
  <message>
   <source>found; connecting</source>
   <translation>gefunden; verbindet</translation>
  </message>
  <message>
   <source>frames of the scale that would turn time back were left out ({dropped})</source>
   <translation>Datenblöcke der Waage, die die Zeit zurückdrehen würden, wurden ausgelassen ({dropped})</translation>
  </message>
  <message>
   <source>frames that would turn time back were left out ({dropped})</source>
   <translation>Datenblöcke, die die Zeit zurückdrehen würden, wurden ausgelassen ({dropped})</translation>
  </message>
  <message>
   <source>free some space on that disk</source>
   <translation>schaffen Sie Platz auf diesem Datenträger</translation>
  </message>
  <message>
   <source>freed</source>
   <translation>freigegeben</translation>
  </message>
  <message>
   <source>from</source>
   <translation>von</translation>
  </message>
  <message>
   <source>from the end of one set to the next</source>
   <translation>vom Ende eines Satzes bis zum nächsten</translation>
  </message>
  <message>
   <source>from the raises so far</source>
   <translation>aus dem bisherigen Heben</translation>
  </message>
  <message>
   <source>from {low:.1f} to {high:.1f} kg</source>
   <translation>von {low:.1f} bis {high:.1f} kg</translation>
  </message>
  <message>
   <source>from {low:g} to {high:g}</source>
   <translation>von {low:g} bis {high:g}</translation>
  </message>
  <message>
   <source>from … to</source>
   <translation>von … bis</translation>
  </message>
  <message>
   <source>front and rear supports were not measured</source>
   <translation>vordere und hintere Auflagen wurden nicht gemessen</translation>
  </message>
  <message>
   <source>front left</source>
   <translation>vorn links</translation>
  </message>
  <message>
   <source>front right</source>
   <translation>vorn rechts</translation>
  </message>
  <message>
   <source>front: toes</source>
   <translation>vorn: Zehen</translation>
  </message>
  <message>
   <source>give kilograms, as in 20kg, or percent of body weight, as in 25%</source>
   <translation>geben Sie Kilogramm an, wie 20kg, oder Prozent des Körpergewichts, wie 25%</translation>
  </message>
  <message>
   <source>give seconds up, at the top, down (and at the bottom), as in 1-1-3-1</source>
   <translation>geben Sie Sekunden hoch, oben, ab (und unten) an, wie in 1-1-3-1</translation>
  </message>
  <message>
   <source>give the numbers of the sets, as in 2, 3, or none</source>
   <translation>geben Sie die Nummern der Sätze an, wie in 2, 3, oder keine</translation>
  </message>
  <message>
   <source>goes back one stage</source>
   <translation>geht eine Stufe zurück</translation>
  </message>
  <message>
   <source>goes on to the next stage</source>
   <translation>geht zur nächsten Stufe</translation>
  </message>
  <message>
   <source>goes with a stage of repetitions: {exercise} is none</source>
   <translation>passt zu einer Stufe mit Wiederholungen: {exercise} ist keine</translation>
  </message>
  <message>
   <source>goes with a stage on one leg: single-lowering or single-raise</source>
   <translation>passt zu einer Stufe auf einem Bein: single-lowering oder single-raise</translation>
  </message>
  <message>
   <source>goes with a stage that is held: {exercise} is none</source>
   <translation>passt zu einer Stufe, die gehalten wird: {exercise} ist keine</translation>
  </message>
  <message>
   <source>goes with freed: nothing of this stage is freed</source>
   <translation>passt zu freed: Von dieser Stufe ist nichts freigegeben</translation>
  </message>
  <message>
   <source>goes with hold and heel-hold: what {exercise} measures needs all of the weight there</source>
   <translation>passt zu hold und heel-hold: Was {exercise} misst, braucht dort das ganze Gewicht</translation>
  </message>
  <message>
   <source>goes with supported = true; without support a share is asked for: target_percent</source>
   <translation>passt zu supported = true; ohne Abstützung wird ein Anteil verlangt: target_percent</translation>
  </message>
  <message>
   <source>goes with surface = {surface}: on the floor no heel goes below the level of standing</source>
   <translation>passt zu surface = {surface}: Auf dem Boden geht keine Ferse unter Standhöhe</translation>
  </message>
  <message>
   <source>goes with the injured leg: where the other works, it would ask for nothing</source>
   <translation>passt zum verletzten Bein: Arbeitet das andere, würde nichts verlangt</translation>
  </message>
  <message>
   <source>grace {seconds} s</source>
   <translation>Karenz {seconds} s</translation>
  </message>
  <message>
   <source>hard, level floor</source>
   <translation>harter, ebener Boden</translation>
  </message>
  <message>
   <source>has no calibration</source>
   <translation>hat keine Kalibrierung</translation>
  </message>
  <message>
   <source>has no sampling rate of its own</source>
   <translation>hat keine eigene Messrate</translation>
  </message>
  <message>
   <source>heel</source>
   <translation>Ferse</translation>
  </message>
  <message>
   <source>heel height</source>
   <translation>Fersenhöhe</translation>
  </message>
  <message>
   <source>heel raises on one leg</source>
   <translation>Fersenheben auf einem Bein</translation>
  </message>
  <message>
   <source>heel raises on two legs</source>
   <translation>Fersenheben auf zwei Beinen</translation>
  </message>
  <message>
   <source>heel raises, one leg</source>
   <translation>Fersenheben, ein Bein</translation>
  </message>
  <message>
   <source>heel raises, two legs</source>
   <translation>Fersenheben, zwei Beine</translation>
  </message>
  <message>
   <source>heel raises: up evenly on two legs, down with more on the injured side</source>
   <translation>Fersenheben: gleichmäßig auf zwei Beinen hoch, ab mit mehr auf der verletzten Seite</translation>
  </message>
  <message>
   <source>heel raises: up on two legs, down on one</source>
   <translation>Fersenheben: auf zwei Beinen hoch, auf einem ab</translation>
  </message>
  <message>
   <source>heel, mm</source>
   <translation>Ferse, mm</translation>
  </message>
  <message>
   <source>heel-hold</source>
   <translation>Halten, Fersen hoch</translation>
  </message>
  <message>
   <source>heels are down</source>
   <translation>Fersen sind unten</translation>
  </message>
  <message>
   <source>heels raised and held, on two legs</source>
   <translation>Fersen gehoben und gehalten, auf zwei Beinen</translation>
  </message>
  <message>
   <source>height</source>
   <translation>Höhe</translation>
  </message>
  <message>
   <source>height kept</source>
   <translation>Höhe behalten</translation>
  </message>
  <message>
   <source>height of the heel</source>
   <translation>Höhe der Ferse</translation>
  </message>
  <message>
   <source>height of the raise against the other side</source>
   <translation>Höhe des Hebens gegenüber der anderen Seite</translation>
  </message>
  <message>
   <source>height sensor</source>
   <translation>Höhensensor</translation>
  </message>
  <message>
   <source>height {fall:.0f} % higher</source>
   <translation>Höhe {fall:.0f} % größer</translation>
  </message>
  <message>
   <source>height {fall:.0f} % lower</source>
   <translation>Höhe {fall:.0f} % geringer</translation>
  </message>
  <message>
   <source>heights and load x heel travel are not known: repetitions rest on the forces</source>
   <translation>Höhen und Last mal Fersenweg sind nicht bekannt: Die Wiederholungen beruhen auf den Kräften</translation>
  </message>
  <message>
   <source>heights and load x heel travel are not known: repetitions were counted by the metronome</source>
   <translation>Höhen und Last mal Fersenweg sind nicht bekannt: Die Wiederholungen zählte das Metronom</translation>
  </message>
  <message>
   <source>heights and load x heel travel are not known: rises from the chair rest on the forces</source>
   <translation>Höhen und Last mal Fersenweg sind nicht bekannt: Das Aufstehen vom Stuhl beruht auf den Kräften</translation>
  </message>
  <message>
   <source>heights, load x heel travel and figures of the stay at the bottom are not known: squats rest on the forces</source>
   <translation>Höhen, Last mal Fersenweg und Zahlen des Bleibens unten sind nicht bekannt: Kniebeugen beruhen auf den Kräften</translation>
  </message>
  <message>
   <source>held</source>
   <translation>gehalten</translation>
  </message>
  <message>
   <source>held for {seconds} s</source>
   <translation>{seconds} s gehalten</translation>
  </message>
  <message>
   <source>held in all</source>
   <translation>insgesamt gehalten</translation>
  </message>
  <message>
   <source>held {seconds} s</source>
   <translation>{seconds} s gehalten</translation>
  </message>
  <message>
   <source>hold</source>
   <translation>halten</translation>
  </message>
  <message>
   <source>hold time on one leg</source>
   <translation>Haltezeit auf einem Bein</translation>
  </message>
  <message>
   <source>hold, heels up</source>
   <translation>halten, Fersen hoch</translation>
  </message>
  <message>
   <source>holds</source>
   <translation>Halten</translation>
  </message>
  <message>
   <source>holds are not listed: the exercise is made of repetitions</source>
   <translation>Halten wird nicht aufgelistet: Die Übung besteht aus Wiederholungen</translation>
  </message>
  <message>
   <source>holds nothing from a scale that could be played back</source>
   <translation>enthält nichts von einer Waage, das sich abspielen ließe</translation>
  </message>
  <message>
   <source>holds nothing from one or two scales that could be played back</source>
   <translation>enthält nichts von einer oder zwei Waagen, das sich abspielen ließe</translation>
  </message>
  <message>
   <source>holds that reached their goal</source>
   <translation>Halten, die ihr Ziel erreichten</translation>
  </message>
  <message>
   <source>how far the load may be from its target</source>
   <translation>wie weit die Last von ihrem Ziel abweichen darf</translation>
  </message>
  <message>
   <source>how far the share may be from the target while practising</source>
   <translation>wie weit der Anteil beim Üben vom Ziel abweichen darf</translation>
  </message>
  <message>
   <source>how long each hold is to last</source>
   <translation>wie lange jede Haltephase dauern soll</translation>
  </message>
  <message>
   <source>how long the share may be outside before a hold ends</source>
   <translation>wie lange der Anteil draußen sein darf, bevor ein Halten endet</translation>
  </message>
  <message>
   <source>how many</source>
   <translation>wie viele</translation>
  </message>
  <message>
   <source>how steady the top of a repetition was is not known: too few readings came there</source>
   <translation>wie ruhig eine Wiederholung oben war, ist nicht bekannt: Dort kamen zu wenige Messwerte</translation>
  </message>
  <message>
   <source>hysteresis</source>
   <translation>Hysterese</translation>
  </message>
  <message>
   <source>in band</source>
   <translation>Bereich</translation>
  </message>
  <message>
   <source>in each set</source>
   <translation>in jedem Satz</translation>
  </message>
  <message>
   <source>in kg or in % of body weight; going over it is an alarm</source>
   <translation>in kg oder in % des Körpergewichts; darüber gibt es Alarm</translation>
  </message>
  <message>
   <source>in no export unless that is asked for</source>
   <translation>in keinem Export, außer es wird verlangt</translation>
  </message>
  <message>
   <source>in practice at home</source>
   <translation>nur zu Hause</translation>
  </message>
  <message>
   <source>in the band</source>
   <translation>im Bereich</translation>
  </message>
  <message>
   <source>in the corridor, going down</source>
   <translation>im Korridor, beim Absenken</translation>
  </message>
  <message>
   <source>in the lowering</source>
   <translation>beim Absenken</translation>
  </message>
  <message>
   <source>in the record the link was lost</source>
   <translation>in der Aufzeichnung war die Verbindung weg</translation>
  </message>
  <message>
   <source>in the record: {why}</source>
   <translation>in der Aufzeichnung: {why}</translation>
  </message>
  <message>
   <source>in thirds</source>
   <translation>in Dritteln</translation>
  </message>
  <message>
   <source>in this computer</source>
   <translation>in diesem Computer</translation>
  </message>
  <message>
   <source>in this set: {why}</source>
   <translation>in diesem Satz: {why}</translation>
  </message>
  <message>
   <source>in words</source>
   <translation>in Worten</translation>
  </message>
  <message>
   <source>in {place}</source>
   <translation>in {place}</translation>
  </message>
  <message>
   <source>install what Debian calls bluez, and start it (sudo systemctl start bluetooth); or use a cable</source>
   <translation>installieren Sie, was bei Debian bluez heißt, und starten Sie es (sudo systemctl start bluetooth); oder nehmen Sie ein Kabel</translation>
  </message>
  <message>
   <source>instants of a repetition are not known: the force was too unsteady, as of one who holds on to something</source>
   <translation>Zeitpunkte einer Wiederholung sind nicht bekannt: Die Kraft war zu unruhig, wie bei jemandem, der sich festhält</translation>
  </message>
  <message>
   <source>is missing or another: write schema = {name}</source>
   <translation>fehlt oder ist ein anderes: Schreiben Sie schema = {name}</translation>
  </message>
  <message>
   <source>is missing: supported work asks for a load, in place of {keys}: load = {kg}, or {percent} of body weight</source>
   <translation>fehlt: mit Abstützung wird anstelle von {keys} eine Last verlangt: load = {kg}, oder {percent} des Körpergewichts</translation>
  </message>
  <message>
   <source>is missing: supported work asks for a load, load = {kg}, or {percent} of body weight</source>
   <translation>fehlt: mit Abstützung wird eine Last verlangt, load = {kg}, oder {percent} des Körpergewichts</translation>
  </message>
  <message>
   <source>is missing: write {allowed}</source>
   <translation>fehlt: Schreiben Sie {allowed}</translation>
  </message>
  <message>
   <source>is missing: {exercise} needs a share to be held against, as 50</source>
   <translation>fehlt: {exercise} braucht einen Anteil als Ziel, etwa 50</translation>
  </message>
  <message>
   <source>is missing; give a session's folder as it was saved</source>
   <translation>fehlt; geben Sie den Ordner einer Sitzung an, wie er gespeichert wurde</translation>
  </message>
  <message>
   <source>is no UTF-8 text; save it as UTF-8</source>
   <translation>ist kein UTF-8-Text; speichern Sie ihn als UTF-8</translation>
  </message>
  <message>
   <source>is no key; did you mean {near}?</source>
   <translation>ist kein Schlüssel; meinten Sie {near}?</translation>
  </message>
  <message>
   <source>is no key; the keys are {keys}</source>
   <translation>ist kein Schlüssel; die Schlüssel sind {keys}</translation>
  </message>
  <message>
   <source>is no table of texts: under each key, where its number comes from</source>
   <translation>ist keine Tabelle von Texten: unter jedem Schlüssel, woher seine Zahl kommt</translation>
  </message>
  <message>
   <source>is no table: a line [stages.criteria], then one line for each</source>
   <translation>ist keine Tabelle: eine Zeile [stages.criteria], dann je eine Zeile</translation>
  </message>
  <message>
   <source>is still being recorded; end that session first</source>
   <translation>wird noch aufgezeichnet; beenden Sie zuerst diese Sitzung</translation>
  </message>
  <message>
   <source>is too large for a programme (over 1 MB)</source>
   <translation>ist zu groß für ein Programm (über 1 MB)</translation>
  </message>
  <message>
   <source>it decides which fields there are below</source>
   <translation>danach richten sich die Felder darunter</translation>
  </message>
  <message>
   <source>it has no calibration</source>
   <translation>sie hat keine Kalibrierung</translation>
  </message>
  <message>
   <source>it is known to {doubt} % only: the total was not steady, or the way too short</source>
   <translation>sie ist nur auf {doubt} % bekannt: Die Summe war nicht ruhig, oder der Weg zu kurz</translation>
  </message>
  <message>
   <source>it is the clinician's to judge</source>
   <translation>das beurteilt die Fachperson</translation>
  </message>
  <message>
   <source>it measures no force: this is no scale to stand on</source>
   <translation>sie misst keine Kraft: Das ist keine Waage zum Daraufstehen</translation>
  </message>
  <message>
   <source>it was measured on neither side</source>
   <translation>es wurde auf keiner Seite gemessen</translation>
  </message>
  <message>
   <source>it was not measured</source>
   <translation>es wurde nicht gemessen</translation>
  </message>
  <message>
   <source>it was not measured on enough days: three are needed</source>
   <translation>es wurde nicht an genug Tagen gemessen: drei sind nötig</translation>
  </message>
  <message>
   <source>it was not measured on the injured side</source>
   <translation>es wurde auf der verletzten Seite nicht gemessen</translation>
  </message>
  <message>
   <source>it was not measured on the other side</source>
   <translation>es wurde auf der anderen Seite nicht gemessen</translation>
  </message>
  <message>
   <source>its light is on now</source>
   <translation>ihr Licht leuchtet jetzt</translation>
  </message>
  <message>
   <source>kept</source>
   <translation>aufbewahrt</translation>
  </message>
  <message>
   <source>kilograms, as in "20kg", or percent of body weight, as in "25%" (1 to 400)</source>
   <translation>Kilogramm, wie in "20kg", oder Prozent des Körpergewichts, wie in "25%" (1 bis 400)</translation>
  </message>
  <message>
   <source>knee bent</source>
   <translation>Knie gebeugt</translation>
  </message>
  <message>
   <source>knee not told</source>
   <translation>Knie nicht angegeben</translation>
  </message>
  <message>
   <source>knee straight</source>
   <translation>Knie gestreckt</translation>
  </message>
  <message>
   <source>known on {count} day only: it takes {least} or more</source>
   <translation>nur an {count} Tag bekannt: Es braucht {least} oder mehr</translation>
  </message>
  <message>
   <source>known on {count} days only: it takes {least} or more</source>
   <translation>nur an {count} Tagen bekannt: Es braucht {least} oder mehr</translation>
  </message>
  <message>
   <source>last time: {said}</source>
   <translation>letztes Mal: {said}</translation>
  </message>
  <message>
   <source>last {each} to first {each}</source>
   <translation>letzte {each} gegen erste {each}</translation>
  </message>
  <message>
   <source>least and greatest share are not known: nobody stood for longer than a second</source>
   <translation>kleinster und größter Anteil sind nicht bekannt: Niemand stand länger als eine Sekunde</translation>
  </message>
  <message>
   <source>left</source>
   <translation>links</translation>
  </message>
  <message>
   <source>left</source>
   <comment>in a sentence</comment>
   <translation>link</translation>
  </message>
  <message>
   <source>length of a hold</source>
   <translation>Haltedauer</translation>
  </message>
  <message>
   <source>limb symmetry index</source>
   <translation>Seitenindex</translation>
  </message>
  <message>
   <source>limit</source>
   <translation>Grenze</translation>
  </message>
  <message>
   <source>limit of load</source>
   <translation>Belastungsgrenze</translation>
  </message>
  <message>
   <source>limit passed for {lasted:.1f} s{peak}</source>
   <translation>Grenze {lasted:.1f} s lang überschritten{peak}</translation>
  </message>
  <message>
   <source>limit {limit:.4g} kg</source>
   <translation>Grenze {limit:.4g} kg</translation>
  </message>
  <message>
   <source>link lost</source>
   <translation>Verbindung verloren</translation>
  </message>
  <message>
   <source>load</source>
   <translation>Last</translation>
  </message>
  <message>
   <source>load asked for</source>
   <translation>verlangte Last</translation>
  </message>
  <message>
   <source>load not read for {lasted:.1f} s</source>
   <translation>Last {lasted:.1f} s lang nicht gelesen</translation>
  </message>
  <message>
   <source>load on the {injured} side, N</source>
   <translation>Last auf der {injured}en Seite, N</translation>
  </message>
  <message>
   <source>load only, heel not seen</source>
   <translation>nur Last, Ferse nicht gesehen</translation>
  </message>
  <message>
   <source>load x heel travel</source>
   <translation>Last mal Fersenweg</translation>
  </message>
  <message>
   <source>load x heel travel against the other leg</source>
   <translation>Last mal Fersenweg gegenüber dem anderen Bein</translation>
  </message>
  <message>
   <source>load x heel travel is no joint work</source>
   <translation>Last x Fersenweg ist keine Gelenkarbeit</translation>
  </message>
  <message>
   <source>load {load}</source>
   <translation>Last {load}</translation>
  </message>
  <message>
   <source>load, N</source>
   <translation>Last, N</translation>
  </message>
  <message>
   <source>load, {injured} foot</source>
   <translation>Last, {injured}er Fuß</translation>
  </message>
  <message>
   <source>locked</source>
   <translation>gesperrt</translation>
  </message>
  <message>
   <source>longest hold</source>
   <translation>längstes Halten</translation>
  </message>
  <message>
   <source>looking …</source>
   <translation>wird gesucht …</translation>
  </message>
  <message>
   <source>lost</source>
   <translation>verloren</translation>
  </message>
  <message>
   <source>low</source>
   <translation>gering</translation>
  </message>
  <message>
   <source>lowering</source>
   <translation>Absenken</translation>
  </message>
  <message>
   <source>make one with `{command}` (your masses, in kg), or give --calibration FILE</source>
   <translation>legen Sie mit `{command}` eine an, oder geben Sie --calibration FILE an</translation>
  </message>
  <message>
   <source>mean force in holds on one leg</source>
   <translation>mittlere Kraft beim Halten auf einem Bein</translation>
  </message>
  <message>
   <source>mean force in standing</source>
   <translation>mittlere Kraft im Stehen</translation>
  </message>
  <message>
   <source>mean heel height</source>
   <translation>mittlere Fersenhöhe</translation>
  </message>
  <message>
   <source>mean load while held</source>
   <translation>mittlere Last beim Halten</translation>
  </message>
  <message>
   <source>mean share</source>
   <translation>mittlerer Anteil</translation>
  </message>
  <message>
   <source>mean share in the lower third of the way down</source>
   <translation>mittlerer Anteil im unteren Drittel des Absenkens</translation>
  </message>
  <message>
   <source>mean share in the lowering</source>
   <translation>mittlerer Anteil beim Absenken</translation>
  </message>
  <message>
   <source>mean share in the lowering, blind sets</source>
   <translation>mittlerer Anteil beim Absenken, Sätze ohne Bildschirm</translation>
  </message>
  <message>
   <source>mean share in the lowering, each set</source>
   <translation>mittlerer Anteil beim Absenken, jeder Satz</translation>
  </message>
  <message>
   <source>mean share in the middle third of the way down</source>
   <translation>mittlerer Anteil im mittleren Drittel des Absenkens</translation>
  </message>
  <message>
   <source>mean share in the upper third of the way down</source>
   <translation>mittlerer Anteil im oberen Drittel des Absenkens</translation>
  </message>
  <message>
   <source>mean share while held</source>
   <translation>mittlerer Anteil beim Halten</translation>
  </message>
  <message>
   <source>mean time of the lowering</source>
   <translation>mittlere Zeit des Absenkens</translation>
  </message>
  <message>
   <source>mean {mean:.0f} %</source>
   <translation>Mittel {mean:.0f} %</translation>
  </message>
  <message>
   <source>measured on {count} day only: it takes {least} or more</source>
   <translation>nur an {count} Tag gemessen: Es braucht {least} oder mehr</translation>
  </message>
  <message>
   <source>measured on {count} days only: it takes {least} or more</source>
   <translation>nur an {count} Tagen gemessen: Es braucht {least} oder mehr</translation>
  </message>
  <message>
   <source>measuring anew</source>
   <translation>misst neu</translation>
  </message>
  <message>
   <source>met</source>
   <translation>erfüllt</translation>
  </message>
  <message>
   <source>middle</source>
   <translation>die Mitte</translation>
  </message>
  <message>
   <source>more repetitions are more of it: the counts belong beside it</source>
   <translation>mehr Wiederholungen ergeben mehr davon: Die Anzahlen gehören dazu</translation>
  </message>
  <message>
   <source>more weight on your {heavier} foot</source>
   <translation>mehr Gewicht auf den {heavier}en Fuß</translation>
  </message>
  <message>
   <source>name or initials of the treating clinician</source>
   <translation>Name oder Kürzel der behandelnden Fachperson</translation>
  </message>
  <message>
   <source>near target: this stage has no target_percent; write the limits</source>
   <translation>near target: Diese Stufe hat kein target_percent; schreiben Sie die Grenzen</translation>
  </message>
  <message>
   <source>near the target</source>
   <translation>nahe am Ziel</translation>
  </message>
  <message>
   <source>needs {key} beside it: who frees a stage says so, with the day</source>
   <translation>braucht {key} daneben: Wer eine Stufe freigibt, sagt es, mit dem Tag</translation>
  </message>
  <message>
   <source>neither heel heights nor front and rear supports were measured</source>
   <translation>weder Fersenhöhen noch vordere und hintere Auflagen wurden gemessen</translation>
  </message>
  <message>
   <source>never</source>
   <translation>nie</translation>
  </message>
  <message>
   <source>no</source>
   <translation>nein</translation>
  </message>
  <message>
   <source>no answer; check the address and the network</source>
   <translation>keine Antwort; prüfen Sie Adresse und Netzwerk</translation>
  </message>
  <message>
   <source>no data comes</source>
   <translation>es kommen keine Daten</translation>
  </message>
  <message>
   <source>no data comes; asking the scale</source>
   <translation>es kommen keine Daten; die Waage wird gefragt</translation>
  </message>
  <message>
   <source>no date</source>
   <translation>ohne Datum</translation>
  </message>
  <message>
   <source>no full second of readings yet</source>
   <translation>noch keine volle Sekunde mit Messwerten</translation>
  </message>
  <message>
   <source>no injured side is told</source>
   <translation>keine verletzte Seite angegeben</translation>
  </message>
  <message>
   <source>no permission to open the port; {remedy}</source>
   <translation>keine Erlaubnis, den Anschluss zu öffnen; {remedy}</translation>
  </message>
  <message>
   <source>no reading</source>
   <translation>kein Messwert</translation>
  </message>
  <message>
   <source>no reading yet</source>
   <translation>noch kein Messwert</translation>
  </message>
  <message>
   <source>no real change</source>
   <translation>keine echte Änderung</translation>
  </message>
  <message>
   <source>no reason was given</source>
   <translation>es wurde kein Grund genannt</translation>
  </message>
  <message>
   <source>no samples for {seconds} s; check the cable, and that the scale is on</source>
   <translation>seit {seconds} s keine Messwerte; prüfen Sie das Kabel, und dass die Waage eingeschaltet ist</translation>
  </message>
  <message>
   <source>no scale answers</source>
   <translation>keine Waage antwortet</translation>
  </message>
  <message>
   <source>no session of this stage yet</source>
   <translation>noch keine Sitzung dieser Stufe</translation>
  </message>
  <message>
   <source>no share without a reading of each foot</source>
   <translation>kein Anteil ohne Messwert von jedem Fuß</translation>
  </message>
  <message>
   <source>no share: the two readings came {apart:.0f} s apart; {together:.0f} s is the most</source>
   <translation>kein Anteil: Die beiden Messwerte lagen {apart:.0f} s auseinander; höchstens {together:.0f} s dürfen es sein</translation>
  </message>
  <message>
   <source>no stage is chosen</source>
   <translation>keine Stufe ist gewählt</translation>
  </message>
  <message>
   <source>no stage of a programme yet</source>
   <translation>noch keine Stufe eines Programms</translation>
  </message>
  <message>
   <source>no tempo</source>
   <translation>ohne Tempo</translation>
  </message>
  <message>
   <source>no upper edge: more is fine</source>
   <translation>keine Obergrenze: mehr ist gut</translation>
  </message>
  <message>
   <source>no weight added</source>
   <translation>ohne Zusatzgewicht</translation>
  </message>
  <message>
   <source>nobody on the scales</source>
   <translation>niemand auf den Waagen</translation>
  </message>
  <message>
   <source>noise not known in newtons: it takes a calibration</source>
   <translation>Rauschen in Newton nicht bekannt: Dazu braucht es eine Kalibrierung</translation>
  </message>
  <message>
   <source>noise {sd:.2f} N</source>
   <translation>Rauschen {sd:.2f} N</translation>
  </message>
  <message>
   <source>non-linearity</source>
   <translation>Nichtlinearität</translation>
  </message>
  <message>
   <source>none</source>
   <translation>keine</translation>
  </message>
  <message>
   <source>not</source>
   <translation>nicht</translation>
  </message>
  <message>
   <source>not all the way up</source>
   <translation>nicht ganz hoch</translation>
  </message>
  <message>
   <source>not allowed yet</source>
   <translation>noch nicht erlaubt</translation>
  </message>
  <message>
   <source>not calibrated yet, and practice needs it: C, with known masses</source>
   <translation>noch nicht kalibriert, und zum Üben nötig: C, mit bekannten Massen</translation>
  </message>
  <message>
   <source>not calibrated yet, and practice needs it: ask your clinician</source>
   <translation>noch nicht kalibriert, und zum Üben nötig: Fragen Sie Ihre Fachperson</translation>
  </message>
  <message>
   <source>not counted: {reason}</source>
   <translation>nicht gezählt: {reason}</translation>
  </message>
  <message>
   <source>not deep enough</source>
   <translation>nicht tief genug</translation>
  </message>
  <message>
   <source>not filtered: {need}, there are {rate}</source>
   <translation>nicht gefiltert: {need}, es sind {rate}</translation>
  </message>
  <message>
   <source>not finished: it was cut short, or still runs</source>
   <translation>nicht abgeschlossen: Sie wurde abgebrochen oder läuft noch</translation>
  </message>
  <message>
   <source>not found nearby; switch the scale on, bring it within a few metres, and see that no other program, telephone or tablet is connected to it</source>
   <translation>nicht in der Nähe gefunden; schalten Sie die Waage ein, bringen Sie sie bis auf wenige Meter heran, und sehen Sie nach, dass kein anderes Programm, Telefon oder Tablet mit ihr verbunden ist</translation>
  </message>
  <message>
   <source>not found yet: is it switched on, and its cable in?</source>
   <translation>noch nicht gefunden: Ist sie eingeschaltet, ist ihr Kabel dran?</translation>
  </message>
  <message>
   <source>not heard yet: is it switched on, charged and near?</source>
   <translation>noch nicht gehört: Ist sie eingeschaltet, geladen und in der Nähe?</translation>
  </message>
  <message>
   <source>not known</source>
   <translation>nicht bekannt</translation>
  </message>
  <message>
   <source>not known for this measure: it takes several days of the same task</source>
   <translation>für diese Größe nicht bekannt: Es braucht mehrere Tage derselben Aufgabe</translation>
  </message>
  <message>
   <source>not known of this patient yet: this task was done on {count} day, and it takes {least}</source>
   <translation>von dieser Person noch nicht bekannt: Diese Aufgabe wurde an {count} Tag gemacht, und es braucht {least}</translation>
  </message>
  <message>
   <source>not known of this patient yet: this task was done on {count} days, and it takes {least}</source>
   <translation>von dieser Person noch nicht bekannt: Diese Aufgabe wurde an {count} Tagen gemacht, und es braucht {least}</translation>
  </message>
  <message>
   <source>not known yet, 1 session</source>
   <translation>noch nicht bekannt, 1 Sitzung</translation>
  </message>
  <message>
   <source>not measured</source>
   <translation>nicht gemessen</translation>
  </message>
  <message>
   <source>not met</source>
   <translation>nicht erfüllt</translation>
  </message>
  <message>
   <source>not still: {sd:.1f} N of noise; does something touch it, or the other plate?</source>
   <translation>nicht ruhig: {sd:.1f} N Rauschen; berührt sie etwas, oder die andere Platte?</translation>
  </message>
  <message>
   <source>not to be read, {ago}</source>
   <translation>nicht lesbar, {ago}</translation>
  </message>
  <message>
   <source>not told</source>
   <translation>nicht angegeben</translation>
  </message>
  <message>
   <source>notes</source>
   <translation>Notizen</translation>
  </message>
  <message>
   <source>nothing</source>
   <translation>nichts</translation>
  </message>
  <message>
   <source>nothing is logged yet</source>
   <translation>noch nichts eingetragen</translation>
  </message>
  <message>
   <source>nothing is recorded any more ({why}); {remedy}</source>
   <translation>es wird nichts mehr aufgezeichnet ({why}); {remedy}</translation>
  </message>
  <message>
   <source>nothing is recorded any more; the program failed inside</source>
   <translation>es wird nichts mehr aufgezeichnet; das Programm hat einen inneren Fehler</translation>
  </message>
  <message>
   <source>nothing is set to be done</source>
   <translation>es ist nichts festgelegt</translation>
  </message>
  <message>
   <source>nothing listens there; switch the scale on and check the port</source>
   <translation>dort lauscht nichts; schalten Sie die Waage ein und prüfen Sie den Anschluss</translation>
  </message>
  <message>
   <source>nothing real: to try the program before you own a scale</source>
   <translation>nichts Echtes: um das Programm auszuprobieren, bevor Sie eine Waage haben</translation>
  </message>
  <message>
   <source>now {load}</source>
   <translation>jetzt {load}</translation>
  </message>
  <message>
   <source>numbers, as in 2, 3: no corridor, no figures, no sound</source>
   <translation>Nummern, wie in 2, 3: kein Korridor, keine Zahlen, kein Ton</translation>
  </message>
  <message>
   <source>of 10</source>
   <translation>von 10</translation>
  </message>
  <message>
   <source>of a full raise; else that of the raises so far</source>
   <translation>eines vollen Anhebens; sonst die der bisherigen</translation>
  </message>
  <message>
   <source>of body weight on the {side} foot</source>
   <translation>des Körpergewichts auf dem {side}en Fuß</translation>
  </message>
  <message>
   <source>of share, 22 healthy older adults, three stands of 60 s each (computed from the data of dos Santos and others, 2017, PeerJ 5:e3626): SEM 2.5 points, minimal detectable change 6.9 points</source>
   <translation>des Anteils, 22 gesunde ältere Erwachsene, je dreimal 60 s Stehen (berechnet aus den Daten von dos Santos und anderen, 2017, PeerJ 5:e3626): SEM 2,5 Punkte, kleinste erkennbare Änderung 6,9 Punkte</translation>
  </message>
  <message>
   <source>of this patient: {why}</source>
   <translation>bei dieser Person: {why}</translation>
  </message>
  <message>
   <source>of {hold:g} s</source>
   <translation>von {hold:g} s</translation>
  </message>
  <message>
   <source>of {repetitions}</source>
   <translation>von {repetitions}</translation>
  </message>
  <message>
   <source>on a step the load is on the forefoot all the time, so that heel heights or a metronome have to tell</source>
   <translation>auf einer Stufe liegt die Last die ganze Zeit auf dem Vorfuß, darum müssen Fersenhöhen oder ein Metronom es sagen</translation>
  </message>
  <message>
   <source>on both feet, before practice; it begins with weighing</source>
   <translation>auf beiden Füßen, vor dem Üben; er beginnt mit dem Wiegen</translation>
  </message>
  <message>
   <source>on how many days all of it has to hold</source>
   <translation>an wie vielen Tagen alles erfüllt sein muss</translation>
  </message>
  <message>
   <source>on the floor</source>
   <translation>auf dem Boden</translation>
  </message>
  <message>
   <source>on the injured side: 20kg, or 25% of body weight</source>
   <translation>auf der verletzten Seite: 20kg, oder 25% des Körpergewichts</translation>
  </message>
  <message>
   <source>on the middle</source>
   <translation>auf die Mitte</translation>
  </message>
  <message>
   <source>on the screen and in reports</source>
   <translation>auf dem Bildschirm und in Berichten</translation>
  </message>
  <message>
   <source>on the step</source>
   <translation>auf der Stufe</translation>
  </message>
  <message>
   <source>on the {injured} foot</source>
   <translation>auf dem {injured}en Fuß</translation>
  </message>
  <message>
   <source>on the {injured} foot, going down</source>
   <translation>auf dem {injured}en Fuß, beim Absenken</translation>
  </message>
  <message>
   <source>on the {injured} foot, going up</source>
   <translation>auf dem {injured}en Fuß, beim Heben</translation>
  </message>
  <message>
   <source>on the {side} plate; asked: {load:g} kg</source>
   <translation>auf der {side}en Platte; verlangt: {load:g} kg</translation>
  </message>
  <message>
   <source>on the {spot} quarter</source>
   <translation>auf das Viertel {spot}</translation>
  </message>
  <message>
   <source>on two legs it lies between {low} and {high} %, more is standing on one leg</source>
   <translation>auf zwei Beinen liegt es zwischen {low} und {high} %, mehr heißt auf einem Bein stehen</translation>
  </message>
  <message>
   <source>one</source>
   <comment>leg</comment>
   <translation>ein</translation>
  </message>
  <message>
   <source>one foot is off</source>
   <translation>ein Fuß ist weg</translation>
  </message>
  <message>
   <source>one line</source>
   <translation>eine Zeile</translation>
  </message>
  <message>
   <source>one line each: the key, an equals sign, where its number comes from</source>
   <translation>je eine Zeile: der Schlüssel, ein Gleichheitszeichen, woher seine Zahl kommt</translation>
  </message>
  <message>
   <source>one line, under what is asked</source>
   <translation>eine Zeile, unter der Aufgabe</translation>
  </message>
  <message>
   <source>one of "floor", "step"</source>
   <translation>eines von "floor", "step"</translation>
  </message>
  <message>
   <source>one of "height", "force", "paced"</source>
   <translation>eines von "height", "force", "paced"</translation>
  </message>
  <message>
   <source>one of "hold", "heel-hold", "raise", "lowering", "single-lowering", "single-raise", "squat", "sit-to-stand"</source>
   <translation>eines von "hold", "heel-hold", "raise", "lowering", "single-lowering", "single-raise", "squat", "sit-to-stand"</translation>
  </message>
  <message>
   <source>one of "injured", "uninjured"</source>
   <translation>eines von "injured", "uninjured"</translation>
  </message>
  <message>
   <source>one of "straight", "bent"</source>
   <translation>eines von "straight", "bent"</translation>
  </message>
  <message>
   <source>one scale, or two with a plus between</source>
   <translation>eine Waage, oder zwei mit einem Plus dazwischen</translation>
  </message>
  <message>
   <source>one session only: cannot be told apart from a good day</source>
   <translation>nur eine Sitzung: von einem guten Tag nicht zu unterscheiden</translation>
  </message>
  <message>
   <source>one session: how far the person strays from day to day is not in it</source>
   <translation>eine Sitzung: Wie weit die Person von Tag zu Tag schwankt, steckt nicht darin</translation>
  </message>
  <message>
   <source>one-leg, step, below-level or stage, with commas between</source>
   <translation>one-leg, step, below-level oder stage, mit Kommas dazwischen</translation>
  </message>
  <message>
   <source>one-sided: the target or more</source>
   <translation>einseitig: das Ziel oder mehr</translation>
  </message>
  <message>
   <source>only asked who it is</source>
   <translation>nur gefragt, wer sie ist</translation>
  </message>
  <message>
   <source>only noise comes; check the speed (@BAUD), the cable, and that it is a scale at all</source>
   <translation>es kommt nur Rauschen; prüfen Sie die Geschwindigkeit (@BAUD), das Kabel, und ob es überhaupt eine Waage ist</translation>
  </message>
  <message>
   <source>optional, with the latitude</source>
   <translation>freiwillig, mit dem Breitengrad</translation>
  </message>
  <message>
   <source>optional: gravity changes by 0.5 % from the equator to the poles</source>
   <translation>freiwillig: Die Schwerkraft ändert sich um 0,5 % vom Äquator zu den Polen</translation>
  </message>
  <message>
   <source>optional; who answers for it, kept in the file</source>
   <translation>freiwillig; wer dafür einsteht, in der Datei aufbewahrt</translation>
  </message>
  <message>
   <source>or more</source>
   <translation>oder mehr</translation>
  </message>
  <message>
   <source>or press Space to take it as it lies</source>
   <translation>oder Leertaste, um es so zu nehmen</translation>
  </message>
  <message>
   <source>out of date since {day}</source>
   <translation>abgelaufen seit {day}</translation>
  </message>
  <message>
   <source>over 99 %</source>
   <translation>über 99 %</translation>
  </message>
  <message>
   <source>over the limit on {day}, with {value}</source>
   <translation>am {day} über der Grenze, mit {value}</translation>
  </message>
  <message>
   <source>overload</source>
   <translation>Überlast</translation>
  </message>
  <message>
   <source>own pace</source>
   <translation>eigenes Tempo</translation>
  </message>
  <message>
   <source>paced needs a tempo: the metronome's phases are what counts</source>
   <translation>paced braucht ein Tempo: Die Phasen des Metronoms sind es, die zählen</translation>
  </message>
  <message>
   <source>pain after</source>
   <translation>Schmerz danach</translation>
  </message>
  <message>
   <source>pain before</source>
   <translation>Schmerz davor</translation>
  </message>
  <message>
   <source>pain during</source>
   <translation>Schmerz dabei</translation>
  </message>
  <message>
   <source>pain next morning</source>
   <translation>Schmerz am nächsten Morgen</translation>
  </message>
  <message>
   <source>part of your weight is elsewhere</source>
   <translation>ein Teil Ihres Gewichts ist anderswo</translation>
  </message>
  <message>
   <source>peak force in standing</source>
   <translation>größte Kraft im Stehen</translation>
  </message>
  <message>
   <source>percent</source>
   <translation>Prozent</translation>
  </message>
  <message>
   <source>percent of body weight</source>
   <translation>Prozent des Körpergewichts</translation>
  </message>
  <message>
   <source>phases of repetitions are the metronome's: whether and when anybody moved was not measured</source>
   <translation>die Phasen der Wiederholungen sind die des Metronoms: Ob und wann sich jemand bewegte, wurde nicht gemessen</translation>
  </message>
  <message>
   <source>points</source>
   <translation>Punkte</translation>
  </message>
  <message>
   <source>powered by its cable</source>
   <translation>Strom über ihr Kabel</translation>
  </message>
  <message>
   <source>press here</source>
   <translation>hier drücken</translation>
  </message>
  <message>
   <source>quarter {spot}, {unit}</source>
   <translation>Viertel {spot}, {unit}</translation>
  </message>
  <message>
   <source>rail</source>
   <translation>Geländer</translation>
  </message>
  <message>
   <source>raise</source>
   <translation>Fersenheben</translation>
  </message>
  <message numerus="yes">
   <source>raises</source>
   <comment>counted</comment>
   <translation>
    <numerusform>Fersenheber</numerusform>
    <numerusform>Fersenheber</numerusform>
   </translation>
  </message>
  <message>
   <source>reached</source>
   <translation>erreicht</translation>
  </message>
  <message>
   <source>readings were missing</source>
   <translation>Messwerte fehlten</translation>
  </message>
  <message>
   <source>reads both feet</source>
   <translation>misst beide Füße</translation>
  </message>
  <message>
   <source>reads one foot</source>
   <translation>misst einen Fuß</translation>
  </message>
  <message>
   <source>reads one foot ({side})</source>
   <translation>misst einen Fuß ({side})</translation>
  </message>
  <message>
   <source>rear left</source>
   <translation>hinten links</translation>
  </message>
  <message>
   <source>rear right</source>
   <translation>hinten rechts</translation>
  </message>
  <message>
   <source>refused</source>
   <translation>abgelehnt</translation>
  </message>
  <message>
   <source>repeatability</source>
   <translation>Wiederholbarkeit</translation>
  </message>
  <message>
   <source>repetition {first}</source>
   <translation>Wiederholung {first}</translation>
  </message>
  <message>
   <source>repetitions</source>
   <translation>Wiederholungen</translation>
  </message>
  <message>
   <source>repetitions against the other leg</source>
   <translation>Wiederholungen gegenüber dem anderen Bein</translation>
  </message>
  <message>
   <source>repetitions are not known: no set with a metronome was begun</source>
   <translation>Wiederholungen sind nicht bekannt: Es begann kein Satz mit Metronom</translation>
  </message>
  <message>
   <source>repetitions are not known: {why}</source>
   <translation>Wiederholungen sind nicht bekannt: {why}</translation>
  </message>
  <message>
   <source>repetitions cannot be counted on these scales</source>
   <translation>auf diesen Waagen lassen sich keine Wiederholungen zählen</translation>
  </message>
  <message>
   <source>repetitions in a set</source>
   <translation>Wiederholungen in einem Satz</translation>
  </message>
  <message>
   <source>repetitions of a set are not known: it had no metronome</source>
   <translation>Wiederholungen eines Satzes sind nicht bekannt: Er hatte kein Metronom</translation>
  </message>
  <message>
   <source>repetitions on one leg</source>
   <translation>Wiederholungen auf einem Bein</translation>
  </message>
  <message>
   <source>repetitions on one leg are not known: the height of its heel was not measured, or not read</source>
   <translation>Wiederholungen auf einem Bein sind nicht bekannt: Die Höhe der Ferse wurde nicht gemessen oder nicht gelesen</translation>
  </message>
  <message>
   <source>repetitions that count</source>
   <translation>Wiederholungen, die zählen</translation>
  </message>
  <message>
   <source>repetitions with a part of the weight elsewhere</source>
   <translation>Wiederholungen mit einem Teil des Gewichts anderswo</translation>
  </message>
  <message>
   <source>repetitions {first} to {last}</source>
   <translation>Wiederholungen {first} bis {last}</translation>
  </message>
  <message>
   <source>rest</source>
   <translation>Pause</translation>
  </message>
  <message>
   <source>rest between sets</source>
   <translation>Pause zwischen den Sätzen</translation>
  </message>
  <message>
   <source>rest is over</source>
   <translation>Pause zu Ende</translation>
  </message>
  <message>
   <source>restart the computer; or use a cable</source>
   <translation>starten Sie den Computer neu; oder nehmen Sie ein Kabel</translation>
  </message>
  <message>
   <source>return to zero</source>
   <translation>Rückkehr auf null</translation>
  </message>
  <message>
   <source>right</source>
   <translation>rechts</translation>
  </message>
  <message>
   <source>right</source>
   <comment>in a sentence</comment>
   <translation>recht</translation>
  </message>
  <message>
   <source>running shoes</source>
   <translation>Laufschuhe</translation>
  </message>
  <message>
   <source>s: supported    i: incomplete return    ?: not known whether supported</source>
   <translation>s: abgestützt    i: nicht ganz zurück    ?: nicht bekannt, ob abgestützt</translation>
  </message>
  <message>
   <source>sampling</source>
   <translation>misst</translation>
  </message>
  <message>
   <source>say in words what the clinician is to judge</source>
   <translation>sagen Sie in Worten, was die Fachperson beurteilen soll</translation>
  </message>
  <message>
   <source>scale {name} cannot be used: {has}; make one with `weightshare calibrate run`</source>
   <translation>Waage {name} kann nicht benutzt werden: {has}; legen Sie eine an mit `weightshare calibrate run`</translation>
  </message>
  <message>
   <source>scale {name} has no calibration and cannot be practised on; {how}</source>
   <translation>Waage {name} hat keine Kalibrierung, damit kann nicht geübt werden; {how}</translation>
  </message>
  <message>
   <source>scale {name} has no force channel for the {side} foot</source>
   <translation>Waage {name} hat keinen Kraftkanal für den {side}en Fuß</translation>
  </message>
  <message>
   <source>scale {name} has no force channel, so it cannot be under the {side} foot</source>
   <translation>Waage {name} hat keinen Kraftkanal, darum kann sie nicht unter dem {side}en Fuß sein</translation>
  </message>
  <message>
   <source>scale {name} reads both feet by itself: use it alone, as the one source</source>
   <translation>Waage {name} misst allein beide Füße: Benutzen Sie sie allein, als einzige Quelle</translation>
  </message>
  <message>
   <source>scale {name} says that it is another than before in this session ({other}), or has other channels: begin a new session</source>
   <translation>Waage {name} gibt an, eine andere als zuvor in dieser Sitzung zu sein ({other}), oder andere Kanäle zu haben: Beginnen Sie eine neue Sitzung</translation>
  </message>
  <message>
   <source>screen at eye height</source>
   <translation>Bildschirm auf Augenhöhe</translation>
  </message>
  <message>
   <source>seated</source>
   <translation>sitzend</translation>
  </message>
  <message>
   <source>seconds</source>
   <translation>Sekunden</translation>
  </message>
  <message>
   <source>seconds from where the lowering begins</source>
   <translation>Sekunden ab Beginn des Absenkens</translation>
  </message>
  <message>
   <source>seconds up, at the top, down and at the bottom, as in "1-1-3-1" (0.3 to 20 s up and down, 0 to 60 s at the top, 0 to 20 s at the bottom)</source>
   <translation>Sekunden hoch, oben, ab und unten, wie in "1-1-3-1" (0.3 bis 20 s hoch und ab, 0 bis 60 s oben, 0 bis 20 s unten)</translation>
  </message>
  <message>
   <source>seconds up, at the top, down, at the bottom, as in 1-1-3-1</source>
   <translation>Sekunden hinauf, oben, hinab, unten, etwa 1-1-3-1</translation>
  </message>
  <message>
   <source>seen</source>
   <translation>gesehen</translation>
  </message>
  <message>
   <source>set</source>
   <translation>Satz</translation>
  </message>
  <message>
   <source>set {last}</source>
   <translation>Satz {last}</translation>
  </message>
  <message>
   <source>set {number}</source>
   <translation>Satz {number}</translation>
  </message>
  <message>
   <source>set {number} of {asked}, without the screen</source>
   <translation>Satz {number} von {asked}, ohne Bildschirm</translation>
  </message>
  <message>
   <source>set {number}, {which}</source>
   <translation>Satz {number}, {which}</translation>
  </message>
  <message>
   <source>sets</source>
   <translation>Sätze</translation>
  </message>
  <message>
   <source>sets done with all repetitions</source>
   <translation>Sätze mit allen Wiederholungen</translation>
  </message>
  <message>
   <source>sets without the screen</source>
   <translation>Sätze ohne Bildschirm</translation>
  </message>
  <message>
   <source>sets {most} and {last}</source>
   <translation>Sätze {most} und {last}</translation>
  </message>
  <message>
   <source>settled readings</source>
   <translation>ruhige Messwerte</translation>
  </message>
  <message>
   <source>share</source>
   <translation>Anteil</translation>
  </message>
  <message>
   <source>share down</source>
   <translation>Anteil ab</translation>
  </message>
  <message>
   <source>share going down {fall:.0f} points higher</source>
   <translation>Anteil beim Absenken {fall:.0f} Punkte höher</translation>
  </message>
  <message>
   <source>share going down {fall:.0f} points lower</source>
   <translation>Anteil beim Absenken {fall:.0f} Punkte tiefer</translation>
  </message>
  <message>
   <source>share on the injured side, %</source>
   <translation>Anteil der verletzten Seite, %</translation>
  </message>
  <message>
   <source>share on the {injured} side, %</source>
   <translation>Anteil der {injured}en Seite, %</translation>
  </message>
  <message>
   <source>share up</source>
   <translation>Anteil hoch</translation>
  </message>
  <message>
   <source>share {share} ± {doubt} %</source>
   <translation>Anteil {share} ± {doubt} %</translation>
  </message>
  <message>
   <source>share, %</source>
   <translation>Anteil, %</translation>
  </message>
  <message>
   <source>share, symmetry and body weight are not told: a part of the weight is elsewhere in supported work</source>
   <translation>Anteil, Symmetrie und Körpergewicht werden nicht angegeben: Beim Üben mit Abstützung ist ein Teil des Gewichts anderswo</translation>
  </message>
  <message>
   <source>shares at the top are not known: the tempo spends no time there</source>
   <translation>Anteile oben sind nicht bekannt: Das Tempo hält sich dort nicht auf</translation>
  </message>
  <message>
   <source>shifting</source>
   <translation>verlagert</translation>
  </message>
  <message>
   <source>short</source>
   <translation>kurz</translation>
  </message>
  <message>
   <source>short: once up and down</source>
   <translation>kurz: einmal hinauf und hinunter</translation>
  </message>
  <message>
   <source>signal good</source>
   <translation>Signal gut</translation>
  </message>
  <message>
   <source>signal strong</source>
   <translation>Signal stark</translation>
  </message>
  <message>
   <source>signal very weak</source>
   <translation>Signal sehr schwach</translation>
  </message>
  <message>
   <source>signal weak</source>
   <translation>Signal schwach</translation>
  </message>
  <message>
   <source>silent: nothing answers; check that the scale is on and that this is its port</source>
   <translation>still: Nichts antwortet; prüfen Sie, dass die Waage eingeschaltet und dies ihr Anschluss ist</translation>
  </message>
  <message>
   <source>since {day}, {ago}</source>
   <translation>seit {day}, {ago}</translation>
  </message>
  <message>
   <source>single moments decide it: stand freely, and shift evenly</source>
   <translation>einzelne Augenblicke entscheiden es: frei stehen und gleichmäßig verlagern</translation>
  </message>
  <message>
   <source>single-lowering</source>
   <translation>Absenken auf einem Bein</translation>
  </message>
  <message>
   <source>single-raise</source>
   <translation>Heben auf einem Bein</translation>
  </message>
  <message>
   <source>sit to stand</source>
   <translation>Aufstehen vom Stuhl</translation>
  </message>
  <message>
   <source>sit-to-stand</source>
   <translation>Aufstehen vom Stuhl</translation>
  </message>
  <message>
   <source>slope</source>
   <translation>Steigung</translation>
  </message>
  <message>
   <source>slope, cell {index}, mN/count</source>
   <translation>Steigung, Zelle {index}, mN/Zählwert</translation>
  </message>
  <message>
   <source>small letters, digits and hyphens, as in "lowering-75"</source>
   <translation>Kleinbuchstaben, Ziffern und Bindestriche, wie in "lowering-75"</translation>
  </message>
  <message>
   <source>so long a hold may be left without ending it</source>
   <translation>so lange darf das Ziel verlassen werden, ohne dass die Haltephase endet</translation>
  </message>
  <message>
   <source>some squats are not known: the force was too unsteady, as of one who holds on to something</source>
   <translation>einige Kniebeugen sind nicht bekannt: Die Kraft war zu unruhig, wie bei jemandem, der sich festhält</translation>
  </message>
  <message>
   <source>speaks protocol version {theirs}, this program version {ours}</source>
   <translation>spricht Protokollversion {theirs}, dieses Programm Version {ours}</translation>
  </message>
  <message>
   <source>squat</source>
   <translation>Kniebeugen</translation>
  </message>
  <message>
   <source>squats</source>
   <translation>Kniebeugen</translation>
  </message>
  <message numerus="yes">
   <source>squats</source>
   <comment>counted</comment>
   <translation>
    <numerusform>Kniebeuge</numerusform>
    <numerusform>Kniebeugen</numerusform>
   </translation>
  </message>
  <message>
   <source>squats on two legs</source>
   <translation>Kniebeugen auf zwei Beinen</translation>
  </message>
  <message>
   <source>stand and hold</source>
   <translation>stehen und halten</translation>
  </message>
  <message>
   <source>standing</source>
   <translation>steht</translation>
  </message>
  <message>
   <source>standing evenly is no pass mark</source>
   <translation>gleichmäßiges Stehen ist kein Bestehen</translation>
  </message>
  <message>
   <source>standing evenly is no pass mark: healthy people stray by about 7 points of share</source>
   <translation>gleichmäßiges Stehen ist kein Bestehen: Gesunde schwanken um etwa 7 Punkte des Anteils</translation>
  </message>
  <message>
   <source>standing on two legs</source>
   <translation>Stehen auf zwei Beinen</translation>
  </message>
  <message>
   <source>standing on two legs, held</source>
   <translation>Stehen auf zwei Beinen, gehalten</translation>
  </message>
  <message>
   <source>standing up from a chair</source>
   <translation>Aufstehen vom Stuhl</translation>
  </message>
  <message numerus="yes">
   <source>stands</source>
   <comment>counted</comment>
   <translation>
    <numerusform>Aufstehen</numerusform>
    <numerusform>Aufstehen</numerusform>
   </translation>
  </message>
  <message>
   <source>stands twice, first in line {line}; keep one</source>
   <translation>steht zweimal da, zuerst in Zeile {line}; behalten Sie eines</translation>
  </message>
  <message>
   <source>stands twice, first in line {line}; put its lines there</source>
   <translation>steht zweimal da, zuerst in Zeile {line}; die Zeilen gehören dorthin</translation>
  </message>
  <message>
   <source>stays at this stage</source>
   <translation>bleibt auf dieser Stufe</translation>
  </message>
  <message>
   <source>step goes with a stage that lifts the heels: {exercise} does not</source>
   <translation>step passt zu einer Stufe, die die Fersen hebt: {exercise} tut das nicht</translation>
  </message>
  <message>
   <source>step {number} of {steps}</source>
   <translation>Schritt {number} von {steps}</translation>
  </message>
  <message>
   <source>step {number}, run {run}, on the {side} plate ({spot}) does not fit the others: measure that step again</source>
   <translation>Schritt {number}, Durchgang {run}, auf der {side}en Platte ({spot}) passt nicht zu den anderen: Messen Sie diesen Schritt noch einmal</translation>
  </message>
  <message>
   <source>stopped half-way</source>
   <translation>auf halbem Weg angehalten</translation>
  </message>
  <message>
   <source>store-bought: shows a weight once it has settled; it cannot time a hold</source>
   <translation>handelsüblich: zeigt ein Gewicht, wenn es zur Ruhe gekommen ist; kann kein Halten messen</translation>
  </message>
  <message>
   <source>straight</source>
   <translation>gestreckt</translation>
  </message>
  <message>
   <source>struck by the clinician</source>
   <translation>von der Fachperson gestrichen</translation>
  </message>
  <message>
   <source>struck: {reason}</source>
   <translation>gestrichen: {reason}</translation>
  </message>
  <message>
   <source>support not known</source>
   <translation>Stütze nicht bekannt</translation>
  </message>
  <message>
   <source>symmetry angle</source>
   <translation>Symmetriewinkel</translation>
  </message>
  <message>
   <source>symmetry index</source>
   <translation>Symmetrieindex</translation>
  </message>
  <message>
   <source>take heel height or the metronome</source>
   <translation>nehmen Sie Fersenhöhe oder das Metronom</translation>
  </message>
  <message>
   <source>taking zero</source>
   <translation>stellt auf null</translation>
  </message>
  <message>
   <source>target</source>
   <translation>Ziel</translation>
  </message>
  <message>
   <source>tempo</source>
   <translation>Tempo</translation>
  </message>
  <message>
   <source>tempo {tempo}</source>
   <translation>Tempo {tempo}</translation>
  </message>
  <message>
   <source>the 3 s of weighing</source>
   <translation>die 3 s des Wiegens</translation>
  </message>
  <message>
   <source>the LEFT plate</source>
   <translation>der LINKEN Platte</translation>
  </message>
  <message>
   <source>the RIGHT plate</source>
   <translation>der RECHTEN Platte</translation>
  </message>
  <message>
   <source>the battery is low: charge it</source>
   <translation>die Batterie ist schwach: laden</translation>
  </message>
  <message>
   <source>the best of few repetitions is less than the best of many</source>
   <translation>das Beste aus wenigen Wiederholungen ist weniger als das Beste aus vielen</translation>
  </message>
  <message>
   <source>the best that is measured</source>
   <translation>das Beste, was gemessen wird</translation>
  </message>
  <message>
   <source>the calibration given is that of {others}</source>
   <translation>die angegebene Kalibrierung gehört zu {others}</translation>
  </message>
  <message>
   <source>the calibration is the laboratory's own; what the figures are worth is not known here</source>
   <translation>die Kalibrierung ist die des Labors; was die Zahlen wert sind, ist hier nicht bekannt</translation>
  </message>
  <message>
   <source>the calibration of scale {name} is dated {made}, and today is {today}; correct this computer's date, or calibrate anew</source>
   <translation>die Kalibrierung der Waage {name} trägt das Datum {made}, und heute ist {today}; berichtigen Sie das Datum dieses Computers, oder kalibrieren Sie neu</translation>
  </message>
  <message>
   <source>the calibration of scale {name} leaves out force channel {index}</source>
   <translation>die Kalibrierung der Waage {name} lässt Kraftkanal {index} aus</translation>
  </message>
  <message>
   <source>the calibration of scale {name} was valid until {day}; make a new one</source>
   <translation>die Kalibrierung der Waage {name} war gültig bis {day}; machen Sie eine neue</translation>
  </message>
  <message>
   <source>the calibration was out of date</source>
   <translation>die Kalibrierung war abgelaufen</translation>
  </message>
  <message>
   <source>the check of the plates failed ({why}); the session goes on without it</source>
   <translation>die Prüfung der Platten misslang ({why}); die Sitzung geht ohne sie weiter</translation>
  </message>
  <message>
   <source>the clinician struck it</source>
   <translation>von der Fachperson gestrichen</translation>
  </message>
  <message>
   <source>the day, as in 2026-11-24</source>
   <translation>der Tag, etwa 2026-11-24</translation>
  </message>
  <message>
   <source>the days differ too much for so few of them: one more day</source>
   <translation>die Tage unterscheiden sich zu sehr für so wenige: noch ein Tag</translation>
  </message>
  <message>
   <source>the drift log cannot be written ({why})</source>
   <translation>das Driftprotokoll kann nicht geschrieben werden ({why})</translation>
  </message>
  <message>
   <source>the drift log of scale {name} cannot be read ({why})</source>
   <translation>das Driftprotokoll der Waage {name} ist nicht lesbar ({why})</translation>
  </message>
  <message>
   <source>the first scale</source>
   <translation>die erste Waage</translation>
  </message>
  <message>
   <source>the floor</source>
   <translation>der Boden</translation>
  </message>
  <message>
   <source>the heel no longer comes up high enough</source>
   <translation>die Ferse kommt nicht mehr hoch genug</translation>
  </message>
  <message>
   <source>the heel's height was not measured</source>
   <translation>die Höhe der Ferse wurde nicht gemessen</translation>
  </message>
  <message>
   <source>the heel's height; under half of it a raise does not count</source>
   <translation>die Höhe der Ferse; unter der Hälfte davon zählt ein Heben nicht</translation>
  </message>
  <message>
   <source>the heels are over a step</source>
   <translation>die Fersen sind über einer Stufe</translation>
  </message>
  <message>
   <source>the heels go below the level of standing</source>
   <translation>die Fersen gehen unter Standhöhe</translation>
  </message>
  <message>
   <source>the heels stayed down</source>
   <translation>die Fersen blieben unten</translation>
  </message>
  <message>
   <source>the heels were too low</source>
   <translation>die Fersen waren zu tief</translation>
  </message>
  <message>
   <source>the injured leg</source>
   <translation>das verletzte Bein</translation>
  </message>
  <message>
   <source>the injured leg stands alone</source>
   <translation>das verletzte Bein steht allein</translation>
  </message>
  <message>
   <source>the injured one</source>
   <translation>das verletzte</translation>
  </message>
  <message>
   <source>the injured one standing alone locks the stage</source>
   <translation>steht das verletzte allein, ist die Stufe gesperrt</translation>
  </message>
  <message>
   <source>the injured side carried nothing</source>
   <translation>die verletzte Seite trug nichts</translation>
  </message>
  <message>
   <source>the injured side's share of the load on the plates</source>
   <translation>der Anteil der verletzten Seite an der Last auf den Platten</translation>
  </message>
  <message>
   <source>the last reading is over 3 min old</source>
   <translation>der letzte Messwert ist über 3 min alt</translation>
  </message>
  <message>
   <source>the left leg</source>
   <translation>das linke Bein</translation>
  </message>
  <message>
   <source>the left plate</source>
   <translation>die linke Platte</translation>
  </message>
  <message>
   <source>the left scale</source>
   <translation>die linke Waage</translation>
  </message>
  <message>
   <source>the limb symmetry index is not known: there was no load on the other side</source>
   <translation>der Symmetrieindex der Beine ist nicht bekannt: Auf der anderen Seite war keine Last</translation>
  </message>
  <message>
   <source>the limit</source>
   <translation>die Grenze</translation>
  </message>
  <message>
   <source>the limit of load was passed {times} time</source>
   <translation>die Belastungsgrenze wurde {times} Mal überschritten</translation>
  </message>
  <message>
   <source>the limit of load was passed {times} times</source>
   <translation>die Belastungsgrenze wurde {times} Mal überschritten</translation>
  </message>
  <message>
   <source>the limit of {load}</source>
   <translation>die Grenze von {load}</translation>
  </message>
  <message>
   <source>the link</source>
   <translation>die Verbindung</translation>
  </message>
  <message>
   <source>the link carries too little: {bytes} bytes, {least} are needed; bring the scale's firmware and this computer's Bluetooth up to date, or use a cable</source>
   <translation>die Verbindung trägt zu wenig: {bytes} Bytes, {least} sind nötig; bringen Sie Firmware der Waage und Bluetooth dieses Computers auf den neuen Stand, oder nehmen Sie ein Kabel</translation>
  </message>
  <message>
   <source>the link is back</source>
   <translation>die Verbindung ist wieder da</translation>
  </message>
  <message>
   <source>the link is lost: how it is cannot be seen</source>
   <translation>die Verbindung ist weg: Wie es steht, ist nicht zu sehen</translation>
  </message>
  <message>
   <source>the link is not open</source>
   <translation>die Verbindung ist nicht offen</translation>
  </message>
  <message>
   <source>the link to the first scale</source>
   <translation>die Verbindung zur ersten Waage</translation>
  </message>
  <message>
   <source>the link to the left scale</source>
   <translation>die Verbindung zur linken Waage</translation>
  </message>
  <message>
   <source>the link to the right scale</source>
   <translation>die Verbindung zur rechten Waage</translation>
  </message>
  <message>
   <source>the link to the second scale</source>
   <translation>die Verbindung zur zweiten Waage</translation>
  </message>
  <message>
   <source>the link was lost</source>
   <translation>die Verbindung ging verloren</translation>
  </message>
  <message>
   <source>the link was lost ({why})</source>
   <translation>die Verbindung ging verloren ({why})</translation>
  </message>
  <message>
   <source>the link was lost: the scale is out of reach or was switched off; bring it nearer, or switch it on</source>
   <translation>die Verbindung ging verloren: Die Waage ist außer Reichweite oder wurde ausgeschaltet; bringen Sie sie näher, oder schalten Sie sie ein</translation>
  </message>
  <message>
   <source>the load was shifted too fast, or not smoothly: go slowly</source>
   <translation>die Last wurde zu schnell oder nicht gleichmäßig verlagert: langsam</translation>
  </message>
  <message>
   <source>the load went from {low} to {high} % on the left only: shift further, if you may</source>
   <translation>die Last links ging nur von {low} auf {high} %: weiter verlagern, wenn Sie dürfen</translation>
  </message>
  <message>
   <source>the metronome</source>
   <translation>das Metronom</translation>
  </message>
  <message>
   <source>the most on the injured side, 20kg or 25% of body weight: an alarm</source>
   <translation>das Höchste auf der verletzten Seite, 20kg oder 25% des Körpergewichts: ein Alarm</translation>
  </message>
  <message>
   <source>the most pain that is tolerated; over it, rest and ask</source>
   <translation>der stärkste Schmerz, der hingenommen wird; darüber: ruhen und fragen</translation>
  </message>
  <message>
   <source>the numbers of the sets without the screen, as in 2, 3</source>
   <translation>die Nummern der Sätze ohne Bildschirm, etwa 2, 3</translation>
  </message>
  <message>
   <source>the one that the heel is raised on</source>
   <translation>das, auf dem die Ferse gehoben wird</translation>
  </message>
  <message>
   <source>the other heel's height is not known: it was not measured, or not read</source>
   <translation>die Höhe der anderen Ferse ist nicht bekannt: Sie wurde nicht gemessen oder nicht gelesen</translation>
  </message>
  <message>
   <source>the other leg may be weakened too: an even index is no strong leg</source>
   <translation>auch das andere Bein kann geschwächt sein: Ein ausgeglichener Index ist kein starkes Bein</translation>
  </message>
  <message>
   <source>the other one</source>
   <translation>das andere</translation>
  </message>
  <message>
   <source>the other side's {kind} is 0: nothing can be a part of it</source>
   <translation>{kind} der anderen Seite ist 0: Nichts kann ein Teil davon sein</translation>
  </message>
  <message>
   <source>the package bleak is missing, which speaks Bluetooth; run: python -m pip install bleak</source>
   <translation>das Paket bleak fehlt, das Bluetooth spricht; rufen Sie auf: python -m pip install bleak</translation>
  </message>
  <message>
   <source>the part on the plates is not known: nobody stood after body weight was known</source>
   <translation>der Teil auf den Platten ist nicht bekannt: Niemand stand da, nachdem das Körpergewicht bekannt war</translation>
  </message>
  <message>
   <source>the passphrase kept there cannot be read. {what}</source>
   <translation>das dort aufbewahrte Kennwort ist nicht lesbar. {what}</translation>
  </message>
  <message>
   <source>the patient {code} is no longer in the store, or the store was moved: the clinician chooses again</source>
   <translation>{code} ist nicht mehr im Verzeichnis, oder das Verzeichnis wurde verschoben: Die Fachperson wählt neu</translation>
  </message>
  <message>
   <source>the pipeline</source>
   <translation>die Auswertung</translation>
  </message>
  <message>
   <source>the plates touch: one was pushed while the other bore the load; move them apart</source>
   <translation>die Platten berühren sich: Eine wurde geschoben, während die andere die Last trug; rücken Sie sie auseinander</translation>
  </message>
  <message>
   <source>the plates touch: {load} N stayed between them when nobody was on; move them apart</source>
   <translation>die Platten berühren sich: {load} N blieben zwischen ihnen, als niemand darauf war; rücken Sie sie auseinander</translation>
  </message>
  <message>
   <source>the port does not take this speed; leave @BAUD out for 115200</source>
   <translation>der Anschluss nimmt diese Geschwindigkeit nicht; lassen Sie @BAUD weg für 115200</translation>
  </message>
  <message>
   <source>the port is in use; close the other program that has it open</source>
   <translation>der Anschluss ist belegt; schließen Sie das andere Programm, das ihn offen hat</translation>
  </message>
  <message>
   <source>the port is not open</source>
   <translation>der Anschluss ist nicht offen</translation>
  </message>
  <message>
   <source>the port was unplugged or failed; check the cable</source>
   <translation>der Anschluss wurde abgezogen oder fiel aus; prüfen Sie das Kabel</translation>
  </message>
  <message>
   <source>the program failed inside; recording goes on</source>
   <translation>das Programm hat einen inneren Fehler; die Aufzeichnung geht weiter</translation>
  </message>
  <message>
   <source>the programme asks for it</source>
   <translation>das Programm verlangt es</translation>
  </message>
  <message>
   <source>the readings of the {side} plate do not tell its channels apart: one does not change</source>
   <translation>die Messwerte der {side}en Platte unterscheiden ihre Kanäle nicht: Einer ändert sich nicht</translation>
  </message>
  <message>
   <source>the record is at its end</source>
   <translation>die Aufzeichnung ist zu Ende</translation>
  </message>
  <message>
   <source>the recording</source>
   <translation>die Aufzeichnung</translation>
  </message>
  <message>
   <source>the rest is over</source>
   <translation>die Pause ist zu Ende</translation>
  </message>
  <message>
   <source>the right leg</source>
   <translation>das rechte Bein</translation>
  </message>
  <message>
   <source>the right plate</source>
   <translation>die rechte Platte</translation>
  </message>
  <message>
   <source>the right scale</source>
   <translation>die rechte Waage</translation>
  </message>
  <message>
   <source>the same weight on both feet</source>
   <translation>gleich viel Gewicht auf beiden Füßen</translation>
  </message>
  <message>
   <source>the scale closed the link; check that it is on</source>
   <translation>die Waage schloss die Verbindung; prüfen Sie, dass sie eingeschaltet ist</translation>
  </message>
  <message>
   <source>the scale could not send everything: move it nearer, or use the cable</source>
   <translation>die Waage konnte nicht alles senden: näher bringen, oder das Kabel nehmen</translation>
  </message>
  <message>
   <source>the scale has not answered for {seconds} s; bring it nearer, or switch it off and on</source>
   <translation>die Waage hat seit {seconds} s nicht geantwortet; bringen Sie sie näher, oder schalten Sie sie aus und ein</translation>
  </message>
  <message>
   <source>the scale is busy with someone else; close the other program that uses it</source>
   <translation>die Waage ist anderweitig beschäftigt; schließen Sie das andere Programm, das sie benutzt</translation>
  </message>
  <message>
   <source>the scale offers its Bluetooth service only in part; bring its firmware up to date</source>
   <translation>die Waage bietet ihren Bluetooth-Dienst nur zum Teil an; bringen Sie ihre Firmware auf den neuen Stand</translation>
  </message>
  <message>
   <source>the scale restarted {often}; its times go on by this computer's clock</source>
   <translation>die Waage startete {often} neu; ihre Zeiten gehen nach der Uhr dieses Computers weiter</translation>
  </message>
  <message>
   <source>the scale says that a cell does not answer: do not trust these numbers; check its cable</source>
   <translation>die Waage meldet, dass eine Zelle nicht antwortet: Trauen Sie diesen Zahlen nicht; prüfen Sie ihr Kabel</translation>
  </message>
  <message>
   <source>the scale says that it lost samples: it could not send them in time</source>
   <translation>die Waage meldet, dass sie Messwerte verlor: Sie konnte sie nicht rechtzeitig senden</translation>
  </message>
  <message>
   <source>the scale says that it takes {told} samples a second, and takes {rate}: its times are right, but look at its settings</source>
   <translation>die Waage gibt an, {told} Messwerte pro Sekunde zu nehmen, und nimmt {rate}: Ihre Zeiten stimmen, aber sehen Sie nach ihren Einstellungen</translation>
  </message>
  <message>
   <source>the scale says that it was overloaded: check it with a known weight before you trust it again</source>
   <translation>die Waage meldet, dass sie überlastet war: Prüfen Sie sie mit einem bekannten Gewicht, bevor Sie ihr wieder trauen</translation>
  </message>
  <message>
   <source>the scale says that its battery is low: charge it</source>
   <translation>die Waage meldet, dass ihre Batterie schwach ist: laden</translation>
  </message>
  <message>
   <source>the scale says {rate:g}</source>
   <translation>die Waage gibt {rate:g} an</translation>
  </message>
  <message>
   <source>the scale was found, but does not let itself be connected; bring it nearer, or switch it off and on again</source>
   <translation>die Waage wurde gefunden, lässt sich aber nicht verbinden; bringen Sie sie näher, oder schalten Sie sie aus und wieder ein</translation>
  </message>
  <message>
   <source>the scale {refuses}; bring its firmware up to date</source>
   <translation>die Waage {refuses}; bringen Sie ihre Firmware auf den neuen Stand</translation>
  </message>
  <message>
   <source>the scale {speaks}; bring both to the same version</source>
   <translation>die Waage {speaks}; bringen Sie beide auf dieselbe Version</translation>
  </message>
  <message>
   <source>the scale's clock began anew {often}; its times go on by this computer's clock</source>
   <translation>die Uhr der Waage begann {often} neu; ihre Zeiten gehen nach der Uhr dieses Computers weiter</translation>
  </message>
  <message>
   <source>the scales remembered there cannot be read; set them up again (Get started)</source>
   <translation>die dort gemerkten Waagen sind nicht lesbar; richten Sie sie neu ein („Einrichten“)</translation>
  </message>
  <message>
   <source>the second scale</source>
   <translation>die zweite Waage</translation>
  </message>
  <message>
   <source>the session could not be finished ({why})</source>
   <translation>die Sitzung konnte nicht abgeschlossen werden ({why})</translation>
  </message>
  <message>
   <source>the share in a third of a lowering is not known: too little of it was read</source>
   <translation>der Anteil in einem Drittel eines Absenkens ist nicht bekannt: Davon wurde zu wenig gelesen</translation>
  </message>
  <message>
   <source>the share was steered to a target, so it is the target's and not the person's</source>
   <translation>der Anteil wurde auf ein Ziel gesteuert, also ist es der des Ziels und nicht der der Person</translation>
  </message>
  <message>
   <source>the share was steered to its target: it says how well that was met, and is no symmetry</source>
   <translation>der Anteil wurde auf sein Ziel gesteuert: Er sagt, wie gut das gelang, und ist keine Symmetrie</translation>
  </message>
  <message>
   <source>the tempo was missed</source>
   <translation>das Tempo wurde verfehlt</translation>
  </message>
  <message>
   <source>the total changed with the way the load went: somebody leaned on something at the ends</source>
   <translation>die Summe änderte sich mit dem Weg der Last: An den Enden lehnte sich jemand an</translation>
  </message>
  <message>
   <source>the total was not steady: a hand on a rail, or bouncing</source>
   <translation>die Summe war nicht ruhig: eine Hand am Geländer, oder Wippen</translation>
  </message>
  <message>
   <source>the total went with the share: somebody leaned on something on one side</source>
   <translation>die Summe ging mit dem Anteil mit: Auf einer Seite lehnte sich jemand an</translation>
  </message>
  <message>
   <source>the two plates could not be compared: {why}</source>
   <translation>die beiden Platten konnten nicht verglichen werden: {why}</translation>
  </message>
  <message>
   <source>the two plates did not read alike</source>
   <translation>die beiden Platten maßen nicht gleich</translation>
  </message>
  <message>
   <source>the two plates push each other: leave a finger's breadth between them</source>
   <translation>die beiden Platten schieben sich gegenseitig: Lassen Sie einen Fingerbreit dazwischen</translation>
  </message>
  <message>
   <source>the two plates read alike: the {side} one reads {by}</source>
   <translation>die beiden Platten messen gleich: Die {side}e zeigt {by}</translation>
  </message>
  <message>
   <source>the two plates were last compared on {day}</source>
   <translation>die beiden Platten wurden zuletzt am {day} verglichen</translation>
  </message>
  <message>
   <source>the two plates were never compared on this scale</source>
   <translation>die beiden Platten dieser Waage wurden noch nie verglichen</translation>
  </message>
  <message>
   <source>the two scales agree in time to {doubt} ms only{cost}: bring them nearer to the computer, or use cables</source>
   <translation>die beiden Waagen stimmen zeitlich nur auf {doubt} ms überein{cost}: Bringen Sie sie näher zum Computer, oder nehmen Sie Kabel</translation>
  </message>
  <message>
   <source>the warm-up stand is not known: it was not over, on both feet, once body weight was known</source>
   <translation>der Aufwärmstand ist nicht bekannt: Er war auf beiden Füßen nicht zu Ende, als das Körpergewicht bekannt war</translation>
  </message>
  <message>
   <source>the zero was not taken, so what the figures are worth is not known</source>
   <translation>es wurde nicht auf null gestellt, darum ist nicht bekannt, was die Zahlen wert sind</translation>
  </message>
  <message>
   <source>the zero was not taken: the plates were not still for a second; the calibration's own zero stands</source>
   <translation>es wurde nicht auf null gestellt: Die Platten waren keine Sekunde ruhig; es gilt die Null der Kalibrierung</translation>
  </message>
  <message>
   <source>the zero was not taken: {load} N lay on the {side} plate; the calibration's own zero stands</source>
   <translation>es wurde nicht auf null gestellt: {load} N lagen auf der {side}en Platte; es gilt die Null der Kalibrierung</translation>
  </message>
  <message>
   <source>the {count} masses ({names}: {total})</source>
   <translation>die {count} Massen ({names}: {total})</translation>
  </message>
  <message>
   <source>the {first} and the {second} mass</source>
   <translation>die Massen von {first} und {second}</translation>
  </message>
  <message>
   <source>the {name} mass</source>
   <translation>die Masse von {name}</translation>
  </message>
  <message>
   <source>the {side} plate creeps: a load that stays on reads {part} % less in the end</source>
   <translation>die {side}e Platte kriecht: Eine liegende Last zeigt am Ende {part} % weniger</translation>
  </message>
  <message>
   <source>the {side} plate creeps: a load that stays on reads {part} % more in the end</source>
   <translation>die {side}e Platte kriecht: Eine liegende Last zeigt am Ende {part} % mehr</translation>
  </message>
  <message>
   <source>the {side} plate did not come back to zero, {load} N stayed: does it touch something?</source>
   <translation>die {side}e Platte kam nicht auf null zurück, {load} N blieben: Berührt sie etwas?</translation>
  </message>
  <message>
   <source>the {side} plate has too few points: put more masses on, or a second run</source>
   <translation>die {side}e Platte hat zu wenige Punkte: mehr Massen auflegen, oder ein zweiter Durchgang</translation>
  </message>
  <message>
   <source>the {side} plate may read {by}: compare them again, or with known masses</source>
   <translation>die {side}e Platte misst vielleicht {by}: noch einmal vergleichen, oder mit bekannten Massen</translation>
  </message>
  <message>
   <source>the {side} plate reads {by} % more than the other: have the scale calibrated</source>
   <translation>die {side}e Platte misst {by} % mehr als die andere: Lassen Sie die Waage kalibrieren</translation>
  </message>
  <message>
   <source>the {side} plate reads {by}: have the scale calibrated before you rely on the share</source>
   <translation>die {side}e Platte misst {by}: Lassen Sie die Waage kalibrieren, bevor Sie sich auf den Anteil verlassen</translation>
  </message>
  <message>
   <source>the {side} plate rocks: put it on a level, hard floor, all of its feet on it</source>
   <translation>die {side}e Platte wackelt: Stellen Sie sie auf einen ebenen, harten Boden, mit allen Füßen</translation>
  </message>
  <message>
   <source>the {side} plate was calibrated up to {force} N ({load} kg): beyond that the same curve is taken on trust</source>
   <translation>die {side}e Platte wurde bis {force} N ({load} kg) kalibriert: Darüber wird dieselbe Kurve auf Treu und Glauben genommen</translation>
  </message>
  <message>
   <source>the {side} plate's zero is {moved} N from its calibration's: have the scale calibrated</source>
   <translation>die Null der {side}en Platte liegt {moved} N von der ihrer Kalibrierung: Lassen Sie die Waage kalibrieren</translation>
  </message>
  <message>
   <source>the {side} plate's zero moved by {moved} N since last time</source>
   <translation>die Null der {side}en Platte verschob sich seit dem letzten Mal um {moved} N</translation>
  </message>
  <message>
   <source>the {side} plate's zero moved by {moved} N since the two plates were compared</source>
   <translation>die Null der {side}en Platte verschob sich um {moved} N, seit die beiden Platten verglichen wurden</translation>
  </message>
  <message>
   <source>the {side} plate's zero wanders by {by} ± {doubt} N a month, seen over {days} days</source>
   <translation>die Null der {side}en Platte wandert um {by} ± {doubt} N im Monat, über {days} Tage gesehen</translation>
  </message>
  <message>
   <source>the {side} scale answered no PING: its times rest on when its readings arrive, and may be late</source>
   <translation>die {side}e Waage antwortete auf kein PING: Ihre Zeiten beruhen darauf, wann ihre Messwerte eintreffen, und können spät sein</translation>
  </message>
  <message>
   <source>the {spot} quarter of the {side} plate reads {part} % less than its middle: look for a loose foot or something under the plate</source>
   <translation>das Viertel {spot} der {side}en Platte zeigt {part} % weniger als ihre Mitte: Sehen Sie nach einem losen Fuß oder nach etwas unter der Platte</translation>
  </message>
  <message>
   <source>the {spot} quarter of the {side} plate reads {part} % more than its middle: look for a loose foot or something under the plate</source>
   <translation>das Viertel {spot} der {side}en Platte zeigt {part} % mehr als ihre Mitte: Sehen Sie nach einem losen Fuß oder nach etwas unter der Platte</translation>
  </message>
  <message>
   <source>their class, or standard uncertainty: 0.05 kg, 20 g, 1 %</source>
   <translation>ihre Klasse, oder Standardunsicherheit: 0,05 kg, 20 g, 1 %</translation>
  </message>
  <message>
   <source>there is no stage {wanted}; its stages are {keys}</source>
   <translation>es gibt keine Stufe {wanted}; die Stufen sind {keys}</translation>
  </message>
  <message>
   <source>there is no such file, and no ready-made programme but {names}</source>
   <translation>es gibt keine solche Datei, und an vorgefertigten Programmen nur {names}</translation>
  </message>
  <message>
   <source>there is no such port; plug the scale in, and see `weightshare scales` for the ports there are</source>
   <translation>es gibt keinen solchen Anschluss; stecken Sie die Waage an, und sehen Sie mit `weightshare scales`, welche es gibt</translation>
  </message>
  <message>
   <source>there was no tempo</source>
   <translation>es gab kein Tempo</translation>
  </message>
  <message>
   <source>there were too few readings of somebody who stands there</source>
   <translation>es gab zu wenige Messwerte von jemandem, der dasteht</translation>
  </message>
  <message>
   <source>they may be grams, written as kilograms</source>
   <translation>es könnten Gramm sein, als Kilogramm geschrieben</translation>
  </message>
  <message>
   <source>they may be kilograms, divided by 9.81 as if they were newtons</source>
   <translation>es könnten Kilogramm sein, durch 9,81 geteilt, als wären es Newton</translation>
  </message>
  <message>
   <source>they may be newtons, written as kilograms</source>
   <translation>es könnten Newton sein, als Kilogramm geschrieben</translation>
  </message>
  <message>
   <source>they may be pounds, written as kilograms</source>
   <translation>es könnten Pfund sein, als Kilogramm geschrieben</translation>
  </message>
  <message>
   <source>they may be tonnes, or kilograms divided by 1000</source>
   <translation>es könnten Tonnen sein, oder Kilogramm durch 1000 geteilt</translation>
  </message>
  <message>
   <source>this computer did not keep up: samples are missing from the display, not from the record</source>
   <translation>dieser Computer kam nicht nach: In der Anzeige fehlen Messwerte, in der Aufzeichnung nicht</translation>
  </message>
  <message>
   <source>this computer has no Bluetooth adapter; plug one in, or use a cable</source>
   <translation>dieser Computer hat keinen Bluetooth-Adapter; stecken Sie einen an, oder nehmen Sie ein Kabel</translation>
  </message>
  <message>
   <source>this computer's Bluetooth adapter cannot speak to scales (no Low Energy); plug in another</source>
   <translation>der Bluetooth-Adapter dieses Computers kann nicht mit Waagen sprechen (kein Low Energy); stecken Sie einen anderen an</translation>
  </message>
  <message>
   <source>this computer's Bluetooth service does not run</source>
   <translation>der Bluetooth-Dienst dieses Computers läuft nicht</translation>
  </message>
  <message>
   <source>this computer's Bluetooth service stopped; it is tried again</source>
   <translation>der Bluetooth-Dienst dieses Computers hielt an; es wird neu versucht</translation>
  </message>
  <message>
   <source>this host is not known; check its name and the network</source>
   <translation>dieser Rechner ist nicht bekannt; prüfen Sie Name und Netzwerk</translation>
  </message>
  <message>
   <source>this is a file, not a folder</source>
   <translation>das ist eine Datei, kein Ordner</translation>
  </message>
  <message>
   <source>this is a store-bought scale, which tells one settled reading now and then and no live share; it can be read by itself, as settled readings, but not practised on</source>
   <translation>das ist eine handelsübliche Waage, die ab und zu einen ruhigen Messwert und keinen laufenden Anteil nennt; sie kann für sich gelesen werden, als ruhige Messwerte, aber nicht zum Üben</translation>
  </message>
  <message>
   <source>this is no scale of this program (its Bluetooth service is missing); see `weightshare scales` for those near</source>
   <translation>das ist keine Waage dieses Programms (ihr Bluetooth-Dienst fehlt); `weightshare scales` zeigt die in der Nähe</translation>
  </message>
  <message>
   <source>this is no scale that tells readings by itself; choose another device</source>
   <translation>das ist keine Waage, die von selbst Messwerte nennt; wählen Sie ein anderes Gerät</translation>
  </message>
  <message>
   <source>this is no serial port that can be used ({why})</source>
   <translation>das ist kein brauchbarer serieller Anschluss ({why})</translation>
  </message>
  <message>
   <source>this is scale {name}, and the session is on {ours}; plug that one in</source>
   <translation>das ist Waage {name}, und die Sitzung läuft auf {ours}; stecken Sie diese an</translation>
  </message>
  <message>
   <source>this patient's own {count} days of this task scatter by {sd} points of the limb symmetry index (standard deviation about a straight line); minimal detectable change {mdc} points</source>
   <translation>die eigenen {count} Tage dieser Aufgabe streuen um {sd} Punkte des Seitenindex (Standardabweichung um eine Gerade); kleinste erkennbare Änderung {mdc} Punkte</translation>
  </message>
  <message>
   <source>this patient's own {count} days of this task scatter by {sd} points of the limb symmetry index (standard deviation about a straight line); minimal detectable change {mdc} points, limited by what the instrument leaves in doubt</source>
   <translation>die eigenen {count} Tage dieser Aufgabe streuen um {sd} Punkte des Seitenindex (Standardabweichung um eine Gerade); kleinste erkennbare Änderung {mdc} Punkte, begrenzt durch die Unsicherheit des Geräts</translation>
  </message>
  <message>
   <source>this program may not use Bluetooth</source>
   <translation>dieses Programm darf Bluetooth nicht benutzen</translation>
  </message>
  <message>
   <source>this scale can do more than settled readings: practise with it without --settled, not beside a store-bought one</source>
   <translation>diese Waage kann mehr als ruhige Messwerte: Üben Sie mit ihr ohne --settled, nicht neben einer handelsüblichen</translation>
  </message>
  <message>
   <source>this session</source>
   <translation>dieser Sitzung</translation>
  </message>
  <message>
   <source>this set</source>
   <translation>diesem Satz</translation>
  </message>
  <message>
   <source>this stage is not locked</source>
   <translation>diese Stufe ist nicht gesperrt</translation>
  </message>
  <message>
   <source>thorough: twice, and creep of 5 min</source>
   <translation>gründlich: zweimal, und 5 min Kriechen</translation>
  </message>
  <message>
   <source>time down</source>
   <translation>Zeit ab</translation>
  </message>
  <message>
   <source>time going down</source>
   <translation>Zeit des Absenkens</translation>
  </message>
  <message>
   <source>time of the lowering in the band</source>
   <translation>Zeit des Absenkens im Bereich</translation>
  </message>
  <message>
   <source>time, s</source>
   <translation>Zeit, s</translation>
  </message>
  <message>
   <source>times over the limit of load</source>
   <translation>Male über der Belastungsgrenze</translation>
  </message>
  <message>
   <source>to</source>
   <translation>bis</translation>
  </message>
  <message>
   <source>toe stop</source>
   <translation>Zehenanschlag</translation>
  </message>
  <message>
   <source>together they are {total:g} kg; a plate bears {greatest:g} kg at most</source>
   <translation>zusammen sind es {total:g} kg; eine Platte trägt höchstens {greatest:g} kg</translation>
  </message>
  <message>
   <source>told to the patient; no scale sees it</source>
   <translation>wird gesagt; keine Waage sieht es</translation>
  </message>
  <message>
   <source>tolerance</source>
   <translation>Toleranz</translation>
  </message>
  <message>
   <source>too close to the limit to decide, given its uncertainty</source>
   <translation>bei seiner Unsicherheit zu nahe an der Grenze, um zu entscheiden</translation>
  </message>
  <message>
   <source>too few days to tell</source>
   <translation>zu wenige Tage für eine Aussage</translation>
  </message>
  <message>
   <source>too little</source>
   <translation>zu wenig</translation>
  </message>
  <message>
   <source>too little on the plates</source>
   <translation>zu wenig auf den Platten</translation>
  </message>
  <message>
   <source>too many sessions began in one second</source>
   <translation>in einer Sekunde begannen zu viele Sitzungen</translation>
  </message>
  <message>
   <source>too much</source>
   <translation>zu viel</translation>
  </message>
  <message>
   <source>too much weight was elsewhere</source>
   <translation>zu viel Gewicht war anderswo</translation>
  </message>
  <message>
   <source>too short</source>
   <translation>zu kurz</translation>
  </message>
  <message>
   <source>top</source>
   <translation>oben</translation>
  </message>
  <message>
   <source>true or false</source>
   <translation>true oder false</translation>
  </message>
  <message>
   <source>trying out, nothing is counted yet</source>
   <translation>zum Ausprobieren, noch wird nichts gezählt</translation>
  </message>
  <message>
   <source>two masses at least: one load alone shows no slope</source>
   <translation>mindestens zwei Massen: eine Last allein zeigt keine Steigung</translation>
  </message>
  <message>
   <source>two-sided: the target, to both sides</source>
   <translation>zweiseitig: um das Ziel herum</translation>
  </message>
  <message>
   <source>undecided</source>
   <translation>unentschieden</translation>
  </message>
  <message>
   <source>under 1 %</source>
   <translation>unter 1 %</translation>
  </message>
  <message>
   <source>until the clinician frees it, whatever it asks for</source>
   <translation>bis die Fachperson freigibt, was immer verlangt wird</translation>
  </message>
  <message>
   <source>until when that holds is not told</source>
   <translation>bis wann das gilt, ist nicht gesagt</translation>
  </message>
  <message>
   <source>up</source>
   <translation>hoch</translation>
  </message>
  <message>
   <source>up even, lower to target</source>
   <translation>gleichmäßig hoch, mit Ziel ab</translation>
  </message>
  <message>
   <source>up on two, down on one</source>
   <translation>auf zweien hoch, auf einem ab</translation>
  </message>
  <message>
   <source>valid until {day}</source>
   <translation>gültig bis {day}</translation>
  </message>
  <message>
   <source>value</source>
   <translation>Wert</translation>
  </message>
  <message>
   <source>waiting for the other scale</source>
   <translation>wartet auf die andere Waage</translation>
  </message>
  <message>
   <source>waiting for the scales</source>
   <translation>wartet auf die Waagen</translation>
  </message>
  <message>
   <source>warm-up stand</source>
   <translation>Aufwärmstand</translation>
  </message>
  <message>
   <source>was altered or cut short; it holds no diary of a session</source>
   <translation>wurde verändert oder abgeschnitten; sie enthält kein Tagebuch einer Sitzung</translation>
  </message>
  <message>
   <source>was altered or cut short; it holds no settings of a session</source>
   <translation>wurde verändert oder abgeschnitten; sie enthält keine Einstellungen einer Sitzung</translation>
  </message>
  <message>
   <source>was altered or cut short; the clinician sets anew what is to be done</source>
   <translation>wurde verändert oder abgeschnitten; die Fachperson legt neu fest, was zu tun ist</translation>
  </message>
  <message>
   <source>was not brought to its end; finish it with: weightshare analyse --recover {folder}</source>
   <translation>wurde nicht zu Ende gebracht; schließen Sie sie ab mit: weightshare analyse --recover {folder}</translation>
  </message>
  <message>
   <source>weighing</source>
   <translation>wiegt</translation>
  </message>
  <message>
   <source>weightshare shows how much of the load on two plates is on the injured side, against a target, and times holds.</source>
   <translation>weightshare zeigt, wie viel der Last auf zwei Platten auf der verletzten Seite liegt, gegen ein Ziel, und misst, wie lange gehalten wird.</translation>
  </message>
  <message>
   <source>what has to hold before the next stage is suggested</source>
   <translation>was erfüllt sein muss, bevor die nächste Stufe vorgeschlagen wird</translation>
  </message>
  <message>
   <source>what is followed; your own ones are offered too</source>
   <translation>was befolgt wird; Ihre eigenen werden auch angeboten</translation>
  </message>
  <message>
   <source>what is practised now</source>
   <translation>was jetzt geübt wird</translation>
  </message>
  <message>
   <source>what it is worth is not known: taken as it is</source>
   <translation>was es wert ist, ist nicht bekannt: genommen, wie es ist</translation>
  </message>
  <message>
   <source>what it is worth was measured on this scale</source>
   <translation>was es wert ist, wurde auf dieser Waage gemessen</translation>
  </message>
  <message>
   <source>what repetitions and their phases rest on</source>
   <translation>worauf Wiederholungen und ihre Phasen beruhen</translation>
  </message>
  <message>
   <source>what that is worth is not known</source>
   <translation>was das wert ist, ist nicht bekannt</translation>
  </message>
  <message>
   <source>what the heels are over; a step locks the stage</source>
   <translation>worüber die Fersen stehen; über einer Stufe ist gesperrt</translation>
  </message>
  <message>
   <source>what the programme is called</source>
   <translation>wie das Programm heißt</translation>
  </message>
  <message>
   <source>what the share is worth is not known</source>
   <translation>was der Anteil wert ist, ist nicht bekannt</translation>
  </message>
  <message>
   <source>when ready: {words}</source>
   <translation>wenn Sie bereit sind: {words}</translation>
  </message>
  <message>
   <source>when the body was up is not known of some rises: the force was too unsteady, or the rise too slow</source>
   <translation>wann der Körper oben war, ist bei manchem Aufstehen nicht bekannt: Die Kraft war zu unruhig, oder es war zu langsam</translation>
  </message>
  <message>
   <source>where a repetition ended is not known: its lowering was too slow for the forces to tell</source>
   <translation>wo eine Wiederholung endete, ist nicht bekannt: Ihr Absenken war zu langsam für die Kräfte</translation>
  </message>
  <message>
   <source>where all numbers come from that have no source of their own</source>
   <translation>woher alle Zahlen kommen, die keine eigene Quelle haben</translation>
  </message>
  <message>
   <source>where the lowering of a repetition began is not known: it was too slow for the forces to tell</source>
   <translation>wo das Absenken einer Wiederholung begann, ist nicht bekannt: Es war zu langsam für die Kräfte</translation>
  </message>
  <message>
   <source>where the top of a repetition began is not known: its rise was too slow for the forces to tell</source>
   <translation>wo eine Wiederholung oben begann, ist nicht bekannt: Das Heben war zu langsam für die Kräfte</translation>
  </message>
  <message>
   <source>whether every hold was supported is not known: body weight was not known then</source>
   <translation>ob jedes Halten abgestützt war, ist nicht bekannt: Das Körpergewicht war da nicht bekannt</translation>
  </message>
  <message>
   <source>whether every repetition was supported is not known: body weight was not known then</source>
   <translation>ob jede Wiederholung abgestützt war, ist nicht bekannt: Das Körpergewicht war da nicht bekannt</translation>
  </message>
  <message>
   <source>whether more than the target is right, too</source>
   <translation>ob auch mehr als das Ziel richtig ist</translation>
  </message>
  <message>
   <source>whether the heels go below the level of standing; that locks the stage</source>
   <translation>ob die Fersen unter die Standhöhe gehen; das sperrt die Stufe</translation>
  </message>
  <message>
   <source>whether the heels were up is not known: load only, heel not seen</source>
   <translation>ob die Fersen oben waren, ist nicht bekannt: nur Last, Ferse nicht gesehen</translation>
  </message>
  <message>
   <source>while held</source>
   <translation>beim Halten</translation>
  </message>
  <message>
   <source>with support</source>
   <translation>mit Stütze</translation>
  </message>
  <message>
   <source>within {asked} points</source>
   <translation>auf {asked} Punkte genau</translation>
  </message>
  <message>
   <source>without support</source>
   <translation>ohne Stütze</translation>
  </message>
  <message>
   <source>without the screen</source>
   <translation>ohne Bildschirm</translation>
  </message>
  <message>
   <source>words in quotes, on one line</source>
   <translation>Worte in Anführungszeichen, auf einer Zeile</translation>
  </message>
  <message>
   <source>yes</source>
   <translation>ja</translation>
  </message>
  <message>
   <source>your weight as you like</source>
   <translation>Ihr Gewicht, wie Sie mögen</translation>
  </message>
  <message>
   <source>zero drift</source>
   <translation>Nulldrift</translation>
  </message>
  <message>
   <source>{age} s ago</source>
   <translation>vor {age} s</translation>
  </message>
  <message>
   <source>{age}, {apart:.0f} s apart</source>
   <translation>{age}, {apart:.0f} s auseinander</translation>
  </message>
  <message>
   <source>{asked} % on the {side} foot is over the limit of {limit} % of body weight</source>
   <translation>{asked} % auf dem {side}en Fuß ist über der Grenze von {limit} % des Körpergewichts</translation>
  </message>
  <message>
   <source>{asked} % on the {side} foot is {load} kg, over the limit of {limit} kg</source>
   <translation>{asked} % auf dem {side}en Fuß sind {load} kg, über der Grenze von {limit} kg</translation>
  </message>
  <message>
   <source>{asked} are asked for, and the scale reads about {seen}. Look at the list of masses: {hint}</source>
   <translation>{asked} sind verlangt, und die Waage zeigt etwa {seen}. Sehen Sie in der Liste der Massen nach: {hint}</translation>
  </message>
  <message>
   <source>{asked}: {sets}; of this patient: {of_patient}.</source>
   <translation>{asked}: {sets}; bei dieser Person: {of_patient}.</translation>
  </message>
  <message>
   <source>{basis}: repetitions of {exercise} rest on force</source>
   <translation>{basis}: Wiederholungen von {exercise} beruhen auf der Kraft</translation>
  </message>
  <message>
   <source>{by} ± {doubt} % more than the other</source>
   <translation>{by} ± {doubt} % mehr als die andere</translation>
  </message>
  <message>
   <source>{code} has no stage of a programme yet: Change gives one</source>
   <translation>{code} hat noch keine Stufe eines Programms: „Angaben ändern“ gibt eine</translation>
  </message>
  <message>
   <source>{code} has no stage yet: choose one.</source>
   <translation>{code} hat noch keine Stufe: Wählen Sie eine.</translation>
  </message>
  <message>
   <source>{code} is no longer in the store</source>
   <translation>{code} ist nicht mehr im Verzeichnis</translation>
  </message>
  <message>
   <source>{code} {what}, {stage_from} → {stage_to}: “{reason}”, signed {by}: press again to sign</source>
   <translation>{code} {what}, {stage_from} → {stage_to}: „{reason}“, unterschrieben von {by}: noch einmal drücken zum Unterschreiben</translation>
  </message>
  <message>
   <source>{count} masses are too many; {most} are the most</source>
   <translation>{count} Massen sind zu viele; höchstens {most}</translation>
  </message>
  <message>
   <source>{count} not counted: {why}</source>
   <translation>{count} nicht gezählt: {why}</translation>
  </message>
  <message>
   <source>{count} of {asked} {raises} counted.</source>
   <translation>{count} von {asked} {raises} gezählt.</translation>
  </message>
  <message>
   <source>{count} passed</source>
   <translation>{count} überschritten</translation>
  </message>
  <message>
   <source>{count} rose again before the heel was down.</source>
   <translation>{count} gingen wieder hoch, bevor die Ferse unten war.</translation>
  </message>
  <message>
   <source>{count} session of this stage. Days on which all criteria were met in the set: {met} of {days} asked for ({on}).</source>
   <translation>{count} Sitzung dieser Stufe. Tage, an denen alle Kriterien im Satz erfüllt waren: {met} von {days} verlangten ({on}).</translation>
  </message>
  <message>
   <source>{count} session of this stage. Days on which all criteria were met in the set: {met} of {days} asked for.</source>
   <translation>{count} Sitzung dieser Stufe. Tage, an denen alle Kriterien im Satz erfüllt waren: {met} von {days} verlangten.</translation>
  </message>
  <message>
   <source>{count} sessions of this stage. Days on which all criteria were met in the set: {met} of {days} asked for ({on}).</source>
   <translation>{count} Sitzungen dieser Stufe. Tage, an denen alle Kriterien im Satz erfüllt waren: {met} von {days} verlangten ({on}).</translation>
  </message>
  <message>
   <source>{count} sessions of this stage. Days on which all criteria were met in the set: {met} of {days} asked for.</source>
   <translation>{count} Sitzungen dieser Stufe. Tage, an denen alle Kriterien im Satz erfüllt waren: {met} von {days} verlangten.</translation>
  </message>
  <message>
   <source>{count} until {reason}</source>
   <translation>{count} bis: {reason}</translation>
  </message>
  <message>
   <source>{count} {raises} counted.</source>
   <translation>{count} {raises} gezählt.</translation>
  </message>
  <message>
   <source>{criterion} cannot be met by what the stage asks for: {keys}</source>
   <translation>{criterion} ist mit dem, was die Stufe verlangt, nicht zu erfüllen: {keys}</translation>
  </message>
  <message>
   <source>{damaged} lines of the drift log could not be read, and are left out</source>
   <translation>{damaged} Zeilen des Driftprotokolls waren nicht lesbar und sind ausgelassen</translation>
  </message>
  <message>
   <source>{day} {month} {year}</source>
   <translation>{day}. {month} {year}</translation>
  </message>
  <message>
   <source>{done} of {asked}</source>
   <translation>{done} von {asked}</translation>
  </message>
  <message>
   <source>{done} of {holds}</source>
   <translation>{done} von {holds}</translation>
  </message>
  <message>
   <source>{done} of {holds} holds of {hold:g} s</source>
   <translation>{done} von {holds} Halten zu {hold:g} s</translation>
  </message>
  <message numerus="yes">
   <source>{done} of {n} sets, {count} {raises}</source>
   <comment>counted</comment>
   <translation>
    <numerusform>{done} von {n} Satz, {count} {raises}</numerusform>
    <numerusform>{done} von {n} Sätzen, {count} {raises}</numerusform>
   </translation>
  </message>
  <message>
   <source>{doubt:g} kg is a fifth of {kg:g} kg or more: with that nothing can be calibrated</source>
   <translation>{doubt:g} kg sind ein Fünftel von {kg:g} kg oder mehr: Damit lässt sich nichts kalibrieren</translation>
  </message>
  <message>
   <source>{down} on your {side} foot alone.</source>
   <translation>{down} auf dem {side}en Fuß allein.</translation>
  </message>
  <message>
   <source>{down} on your {side} foot.</source>
   <translation>{down} auf dem {side}en Fuß.</translation>
  </message>
  <message>
   <source>{edge}: {before:.3f} s → {now:.3f} s</source>
   <translation>{edge}: {before:.3f} s → {now:.3f} s</translation>
  </message>
  <message>
   <source>{exercise}, on a step</source>
   <translation>{exercise}, auf einer Stufe</translation>
  </message>
  <message>
   <source>{exercise}, with support</source>
   <translation>{exercise}, mit Abstützung</translation>
  </message>
  <message>
   <source>{exercise}, {target} % on the {side} side</source>
   <translation>{exercise}, {target} % auf der {side}en Seite</translation>
  </message>
  <message>
   <source>{fall:.0f} % quicker</source>
   <translation>{fall:.0f} % schneller</translation>
  </message>
  <message>
   <source>{fall:.0f} % slower</source>
   <translation>{fall:.0f} % langsamer</translation>
  </message>
  <message>
   <source>{field} {value} is out of range: it may be {low} to {high} {unit}</source>
   <translation>{field} {value} liegt außerhalb: erlaubt ist {low} bis {high} {unit}</translation>
  </message>
  <message>
   <source>{field} {value}: {why}</source>
   <translation>{field} {value}: {why}</translation>
  </message>
  <message>
   <source>{figure:C}</source>
   <translation>{figure:C}</translation>
  </message>
  <message>
   <source>{files}: this calibration is of scale {theirs}, but scale {name} answers; give its own</source>
   <translation>{files}: Diese Kalibrierung gehört zu Waage {theirs}, aber es antwortet Waage {name}; geben Sie deren eigene an</translation>
  </message>
  <message>
   <source>{first} and {last}</source>
   <translation>{first} und {last}</translation>
  </message>
  <message>
   <source>{first} to {last} of {count}</source>
   <translation>{first} bis {last} von {count}</translation>
  </message>
  <message>
   <source>{first} to {last} of {count}; ↑ ↓ show the others</source>
   <translation>{first} bis {last} von {count}; ↑ ↓ zeigen die anderen</translation>
  </message>
  <message>
   <source>{foot:C} foot on the scale, the other beside it on something just as high. Hold the rail, stand still.</source>
   <translation>{foot:C}en Fuß auf die Waage, den anderen daneben auf etwas gleich Hohes. Festhalten, still stehen.</translation>
  </message>
  <message>
   <source>{held} s, done</source>
   <translation>{held} s, geschafft</translation>
  </message>
  <message>
   <source>{here:C} reads less as more lies on it: its cells are wired the wrong way round</source>
   <translation>An {here} sinkt die Anzeige, je mehr daraufliegt: Ihre Zellen sind verkehrt angeschlossen</translation>
  </message>
  <message>
   <source>{hint}: that is a factor of {factor:.4g}</source>
   <translation>{hint}: das ist ein Faktor {factor:.4g}</translation>
  </message>
  <message>
   <source>{holds} times</source>
   <translation>{holds}-mal</translation>
  </message>
  <message>
   <source>{injured} foot injured</source>
   <translation>{injured}er Fuß verletzt</translation>
  </message>
  <message>
   <source>{injured} injured</source>
   <translation>{injured} verletzt</translation>
  </message>
  <message>
   <source>{injured} is {symmetry:.0f} % of {other}</source>
   <translation>{injured} ist {symmetry:.0f} % von {other}</translation>
  </message>
  <message>
   <source>{key} and {key2}</source>
   <translation>{key} und {key2}</translation>
  </message>
  <message>
   <source>{kg:g} kg</source>
   <translation>{kg:g} kg</translation>
  </message>
  <message>
   <source>{kg:g} kg is less than {least:g} kg</source>
   <translation>{kg:g} kg ist weniger als {least:g} kg</translation>
  </message>
  <message>
   <source>{kg:g} kg is more than {greatest:g} kg{hint}</source>
   <translation>{kg:g} kg ist mehr als {greatest:g} kg{hint}</translation>
  </message>
  <message>
   <source>{lasted:.0f} s in the band in all</source>
   <translation>insgesamt {lasted:.0f} s im Bereich</translation>
  </message>
  <message>
   <source>{late} did not end in time</source>
   <translation>{late} endete nicht rechtzeitig</translation>
  </message>
  <message>
   <source>{level:.0f} N lie on it: take everything off, or calibrate anew if nothing is there</source>
   <translation>{level:.0f} N liegen darauf: alles abnehmen, oder neu kalibrieren, wenn nichts da ist</translation>
  </message>
  <message>
   <source>{limits} is upside down: the smaller comes first</source>
   <translation>{limits} steht verkehrt herum: das Kleinere zuerst</translation>
  </message>
  <message>
   <source>{limit} Keep a hand by the rail.</source>
   <translation>{limit} Eine Hand bleibt am Geländer.</translation>
  </message>
  <message>
   <source>{limit} {unit} is under the {wanted} {unit2} that the stage asks for; change one</source>
   <translation>{limit} {unit} liegt unter den {wanted} {unit2}, die die Stufe verlangt; ändern Sie eines</translation>
  </message>
  <message>
   <source>{link} is back</source>
   <translation>{link} ist wieder da</translation>
  </message>
  <message>
   <source>{link} is back at {time} s</source>
   <translation>{link} ist bei {time} s wieder da</translation>
  </message>
  <message>
   <source>{link} was lost at {time} s: {why}</source>
   <translation>{link} ging bei {time} s verloren: {why}</translation>
  </message>
  <message>
   <source>{link} was lost: {why}</source>
   <translation>{link} ging verloren: {why}</translation>
  </message>
  <message>
   <source>{load:.0f} N on it</source>
   <translation>{load:.0f} N darauf</translation>
  </message>
  <message>
   <source>{load} kg added</source>
   <translation>{load} kg Zusatzgewicht</translation>
  </message>
  <message>
   <source>{load} on the scales now</source>
   <translation>jetzt {load} auf den Waagen</translation>
  </message>
  <message>
   <source>{load} on the {side} foot, the rest on crutches or frame</source>
   <translation>{load} auf dem {side}en Fuß, der Rest auf Stützen oder Gehgestell</translation>
  </message>
  <message>
   <source>{lock} does not lock this stage; it is locked by {locks}</source>
   <translation>{lock} sperrt diese Stufe nicht; gesperrt ist sie durch {locks}</translation>
  </message>
  <message>
   <source>{lock} does not lock this stage; nothing does</source>
   <translation>{lock} sperrt diese Stufe nicht; nichts sperrt sie</translation>
  </message>
  <message>
   <source>{low:.1f} kg or more</source>
   <translation>{low:.1f} kg oder mehr</translation>
  </message>
  <message>
   <source>{low:g} or more</source>
   <translation>{low:g} oder mehr</translation>
  </message>
  <message>
   <source>{low:g} to {high:g}</source>
   <translation>{low:g} bis {high:g}</translation>
  </message>
  <message>
   <source>{lower:g} % or more</source>
   <translation>{lower:g} % oder mehr</translation>
  </message>
  <message>
   <source>{lower:g} to {upper:g} %</source>
   <translation>{lower:g} bis {upper:g} %</translation>
  </message>
  <message>
   <source>{low} to {high}</source>
   <translation>{low} bis {high}</translation>
  </message>
  <message>
   <source>{low} to {high} {unit}</source>
   <translation>{low} bis {high} {unit}</translation>
  </message>
  <message>
   <source>{many} for {hold:g} s.</source>
   <translation>{many} {hold:g} s.</translation>
  </message>
  <message>
   <source>{measure:C}: injured {injured}, other {other}</source>
   <translation>{measure:C}: verletzt {injured}, andere {other}</translation>
  </message>
  <message>
   <source>{measure} at least {low}</source>
   <translation>{measure} mindestens {low}</translation>
  </message>
  <message>
   <source>{measure} at least {low} {unit}</source>
   <translation>{measure} mindestens {low} {unit}</translation>
  </message>
  <message>
   <source>{measure} at most {high}</source>
   <translation>{measure} höchstens {high}</translation>
  </message>
  <message>
   <source>{measure} at most {high} {unit}</source>
   <translation>{measure} höchstens {high} {unit}</translation>
  </message>
  <message>
   <source>{measure} was {value} of 10, over the limit of {limit}</source>
   <translation>{measure} war {value} von 10, über der Grenze von {limit}</translation>
  </message>
  <message>
   <source>{measure} {low} to {high}</source>
   <translation>{measure} {low} bis {high}</translation>
  </message>
  <message>
   <source>{measure} {low} to {high} {unit}</source>
   <translation>{measure} {low} bis {high} {unit}</translation>
  </message>
  <message>
   <source>{measure}: not known</source>
   <translation>{measure}: nicht bekannt</translation>
  </message>
  <message>
   <source>{measure}: not known, asked {asked}: {verdict}, {why}</source>
   <translation>{measure}: nicht bekannt, verlangt {asked}: {verdict}, {why}</translation>
  </message>
  <message>
   <source>{measure}: {limit}</source>
   <translation>{measure}: {limit}</translation>
  </message>
  <message>
   <source>{measure}: {value}, asked {asked}: {verdict}</source>
   <translation>{measure}: {value}, verlangt {asked}: {verdict}</translation>
  </message>
  <message>
   <source>{measure}: {value}, asked {asked}: {verdict} ({sure})</source>
   <translation>{measure}: {value}, verlangt {asked}: {verdict} ({sure})</translation>
  </message>
  <message>
   <source>{measure}: {value}, asked {asked}: {verdict}, {why}</source>
   <translation>{measure}: {value}, verlangt {asked}: {verdict}, {why}</translation>
  </message>
  <message>
   <source>{minutes} min {age} s ago</source>
   <translation>vor {minutes} min {age} s</translation>
  </message>
  <message>
   <source>{mistakes} to be put right first: see the lines marked on the left.</source>
   <translation>Zuerst zu berichtigen: {mistakes}. Siehe die links markierten Zeilen.</translation>
  </message>
  <message>
   <source>{name} by hand: {value}</source>
   <translation>{name} von Hand: {value}</translation>
  </message>
  <message>
   <source>{name} by hand: {value}, not {before}</source>
   <translation>{name} von Hand: {value}, nicht {before}</translation>
  </message>
  <message>
   <source>{name} is freed on {day}, which is still to come: put the day right in the programme.</source>
   <translation>{name} ist erst am {day} freigegeben, und das steht noch aus: Berichtigen Sie den Tag im Programm.</translation>
  </message>
  <message>
   <source>{name} is locked: {locks}. {frees}</source>
   <translation>{name} ist gesperrt: {locks}. {frees}</translation>
  </message>
  <message>
   <source>{name} was changed since that session, or is no longer here: choose the stage yourself (F2).</source>
   <translation>{name} wurde seit dieser Sitzung geändert oder ist nicht mehr da: Wählen Sie die Stufe selbst (F2).</translation>
  </message>
  <message>
   <source>{name} {value:g}{unit}: it may be {low:g} to {high:g}{unit}</source>
   <translation>{name} {value:g}{unit}: erlaubt ist {low:g} bis {high:g}{unit}</translation>
  </message>
  <message>
   <source>{name}: reading minus load</source>
   <translation>{name}: Anzeige minus Last</translation>
  </message>
  <message>
   <source>{note:C}.</source>
   <translation>{note:C}.</translation>
  </message>
  <message>
   <source>{number} is not allowed: there are {sets} sets</source>
   <translation>{number} ist nicht erlaubt: Es gibt {sets} Sätze</translation>
  </message>
  <message>
   <source>{number} is over the programme's limit of {limit}; change one</source>
   <translation>{number} liegt über der Grenze des Programms, {limit}: Ändern Sie eines davon</translation>
  </message>
  <message>
   <source>{number}, without quotes and unit</source>
   <translation>{number}, ohne Anführungszeichen und Einheit</translation>
  </message>
  <message numerus="yes">
   <source>{n} gaps without a reading, {missing:.1f} s in all.</source>
   <comment>counted</comment>
   <translation>
    <numerusform>{n} Lücke ohne Messwerte, zusammen {missing:.1f} s.</numerusform>
    <numerusform>{n} Lücken ohne Messwerte, zusammen {missing:.1f} s.</numerusform>
   </translation>
  </message>
  <message numerus="yes">
   <source>{n} holds of {hold:g} s</source>
   <comment>counted</comment>
   <translation>
    <numerusform>{n} Halten zu {hold:g} s</numerusform>
    <numerusform>{n} Halten zu {hold:g} s</numerusform>
   </translation>
  </message>
  <message numerus="yes">
   <source>{n} mistakes</source>
   <comment>counted</comment>
   <translation>
    <numerusform>{n} Fehler</numerusform>
    <numerusform>{n} Fehler</numerusform>
   </translation>
  </message>
  <message numerus="yes">
   <source>{n} mistakes: this file cannot be practised by.</source>
   <comment>counted</comment>
   <translation>
    <numerusform>{n} Fehler: Nach dieser Datei kann nicht geübt werden.</numerusform>
    <numerusform>{n} Fehler: Nach dieser Datei kann nicht geübt werden.</numerusform>
   </translation>
  </message>
  <message numerus="yes">
   <source>{n} of {count} were with a hand on the rail.</source>
   <comment>counted</comment>
   <translation>
    <numerusform>{n} von {count} war mit einer Hand am Geländer.</numerusform>
    <numerusform>{n} von {count} waren mit einer Hand am Geländer.</numerusform>
   </translation>
  </message>
  <message numerus="yes">
   <source>{n} patients</source>
   <comment>counted</comment>
   <translation>
    <numerusform>{n} Person</numerusform>
    <numerusform>{n} Personen</numerusform>
   </translation>
  </message>
  <message numerus="yes">
   <source>{n} readings</source>
   <comment>counted</comment>
   <translation>
    <numerusform>{n} Messwert</numerusform>
    <numerusform>{n} Messwerte</numerusform>
   </translation>
  </message>
  <message numerus="yes">
   <source>{n} sessions</source>
   <comment>counted</comment>
   <translation>
    <numerusform>{n} Sitzung</numerusform>
    <numerusform>{n} Sitzungen</numerusform>
   </translation>
  </message>
  <message numerus="yes">
   <source>{n} sessions were cut short. What was recorded is kept, and can be finished now: {folder}</source>
   <comment>counted</comment>
   <translation>
    <numerusform>Eine Sitzung wurde abgebrochen. Das Aufgezeichnete ist da und kann jetzt abgeschlossen werden: {folder}</numerusform>
    <numerusform>{n} Sitzungen wurden abgebrochen. Das Aufgezeichnete ist da und kann jetzt abgeschlossen werden: {folder}</numerusform>
   </translation>
  </message>
  <message numerus="yes">
   <source>{n} sets of {repetitions}, {tempo}</source>
   <comment>counted</comment>
   <translation>
    <numerusform>{n} Satz zu {repetitions}, {tempo}</numerusform>
    <numerusform>{n} Sätze zu {repetitions}, {tempo}</numerusform>
   </translation>
  </message>
  <message numerus="yes">
   <source>{n} times</source>
   <comment>counted</comment>
   <translation>
    <numerusform>{n}-mal</numerusform>
    <numerusform>{n}-mal</numerusform>
   </translation>
  </message>
  <message numerus="yes">
   <source>{n} weeks ago</source>
   <comment>counted</comment>
   <translation>
    <numerusform>vor {n} Woche</numerusform>
    <numerusform>vor {n} Wochen</numerusform>
   </translation>
  </message>
  <message>
   <source>{option} goes with a stage of repetitions: {exercise} is none</source>
   <translation>{option} passt zu einer Stufe mit Wiederholungen: {exercise} ist keine</translation>
  </message>
  <message>
   <source>{other:C} foot back on. Rest a moment.</source>
   <translation>{other:C}en Fuß wieder aufsetzen. Einen Moment ausruhen.</translation>
  </message>
  <message>
   <source>{pain} of 10 is over the limit of {limit}. It may be better to rest, and to ask your clinician before going on.</source>
   <translation>{pain} von 10 ist über der Grenze von {limit}. Vielleicht ist es besser, zu pausieren und vor dem Weitermachen Ihre Fachperson zu fragen.</translation>
  </message>
  <message>
   <source>{part:.0f} % of body weight</source>
   <translation>{part:.0f} % des Körpergewichts</translation>
  </message>
  <message>
   <source>{part} % of body weight</source>
   <translation>{part} % des Körpergewichts</translation>
  </message>
  <message>
   <source>{path}: cannot be written ({why})</source>
   <translation>{path}: kann nicht geschrieben werden ({why})</translation>
  </message>
  <message>
   <source>{percent:g} % of body weight</source>
   <translation>{percent:g} % des Körpergewichts</translation>
  </message>
  <message>
   <source>{place}: the disk is full; free some space on it, then try again</source>
   <translation>{place}: Der Datenträger ist voll; schaffen Sie Platz, dann versuchen Sie es erneut</translation>
  </message>
  <message>
   <source>{place}: {said}</source>
   <translation>{place}: {said}</translation>
  </message>
  <message>
   <source>{posture}. Rest a moment.</source>
   <translation>{posture}. Einen Moment ausruhen.</translation>
  </message>
  <message>
   <source>{programme}, version {version}: {stage}. It is the programme's last stage.</source>
   <translation>{programme}, Version {version}: {stage}. Es ist die letzte Stufe des Programms.</translation>
  </message>
  <message>
   <source>{programme}, version {version}: {stage}. The next stage of the programme is {next}, which is locked until the clinician frees it.</source>
   <translation>{programme}, Version {version}: {stage}. Die nächste Stufe des Programms ist {next}; sie ist gesperrt, bis die Fachperson sie freigibt.</translation>
  </message>
  <message>
   <source>{programme}, version {version}: {stage}. The next stage of the programme is {next}.</source>
   <translation>{programme}, Version {version}: {stage}. Die nächste Stufe des Programms ist {next}.</translation>
  </message>
  <message>
   <source>{raised:C} {last} was lower than the first ones.</source>
   <translation>{raised:C} {last} war niedriger als die ersten.</translation>
  </message>
  <message>
   <source>{raises:C} {first} and {last} were lower than the first ones.</source>
   <translation>{raises:C} {first} und {last} waren niedriger als die ersten.</translation>
  </message>
  <message>
   <source>{raises:C} {first} to {last} were lower than the first ones.</source>
   <translation>{raises:C} {first} bis {last} waren niedriger als die ersten.</translation>
  </message>
  <message>
   <source>{rate:.1f} samples a second</source>
   <translation>{rate:.1f} Messwerte pro Sekunde</translation>
  </message>
  <message>
   <source>{reason:C}.</source>
   <translation>{reason:C}.</translation>
  </message>
  <message>
   <source>{said}; its raw record is kept</source>
   <translation>{said}; die Rohdaten sind aufbewahrt</translation>
  </message>
  <message>
   <source>{said}; {remedy}</source>
   <translation>{said}; {remedy}</translation>
  </message>
  <message>
   <source>{seconds:g} s at the top</source>
   <translation>{seconds:g} s oben</translation>
  </message>
  <message>
   <source>{seconds:g} s down</source>
   <translation>{seconds:g} s ab</translation>
  </message>
  <message>
   <source>{seconds:g} s up</source>
   <translation>{seconds:g} s hoch</translation>
  </message>
  <message>
   <source>{seconds} s</source>
   <translation>{seconds} s</translation>
  </message>
  <message>
   <source>{sets} of {repetitions}.</source>
   <translation>{sets} zu {repetitions}.</translation>
  </message>
  <message>
   <source>{sets} sets</source>
   <translation>{sets} Sätze</translation>
  </message>
  <message>
   <source>{sets}, as many as you can.</source>
   <translation>{sets}, so viele wie möglich.</translation>
  </message>
  <message>
   <source>{set} is done</source>
   <translation>{set} ist geschafft</translation>
  </message>
  <message>
   <source>{side:C} foot</source>
   <translation>{side:C}er Fuß</translation>
  </message>
  <message>
   <source>{side:C} foot, injured</source>
   <translation>{side:C}er Fuß, verletzt</translation>
  </message>
  <message>
   <source>{side} foot</source>
   <translation>{side}er Fuß</translation>
  </message>
  <message>
   <source>{side} foot, injured</source>
   <translation>{side}er Fuß, verletzt</translation>
  </message>
  <message>
   <source>{side} leg works</source>
   <translation>{side}es Bein arbeitet</translation>
  </message>
  <message>
   <source>{side} plate, 0 to {range:.0f} N</source>
   <translation>{side}e Platte, 0 bis {range:.0f} N</translation>
  </message>
  <message>
   <source>{side} side injured</source>
   <translation>{side}e Seite verletzt</translation>
  </message>
  <message>
   <source>{spot} quarter</source>
   <translation>das Viertel {spot}</translation>
  </message>
  <message>
   <source>{stage} (from {now} to {then} %) could be next. It is locked ({locks}) until the clinician frees it. {decides}</source>
   <translation>{stage} (von {now} auf {then} %) könnte folgen. Sie ist gesperrt ({locks}), bis die Fachperson sie freigibt. {decides}</translation>
  </message>
  <message>
   <source>{stage} (from {now} to {then} %) could be next. {decides}</source>
   <translation>{stage} (von {now} auf {then} %) könnte folgen. {decides}</translation>
  </message>
  <message>
   <source>{stage} could be done again. {decides}</source>
   <translation>{stage} könnte wiederholt werden. {decides}</translation>
  </message>
  <message>
   <source>{stage} could be next. It is locked ({locks}) until the clinician frees it. {decides}</source>
   <translation>{stage} könnte folgen. Sie ist gesperrt ({locks}), bis die Fachperson sie freigibt. {decides}</translation>
  </message>
  <message>
   <source>{stage} could be next. {decides}</source>
   <translation>{stage} könnte folgen. {decides}</translation>
  </message>
  <message>
   <source>{steps} steps, about {minutes:.0f} minutes</source>
   <translation>{steps} Schritte, etwa {minutes:.0f} Minuten</translation>
  </message>
  <message>
   <source>{supported} with a hand on the rail</source>
   <translation>{supported} mit einer Hand am Geländer</translation>
  </message>
  <message>
   <source>{target:g} % on the {side} foot</source>
   <translation>{target:g} % auf dem {side}en Fuß</translation>
  </message>
  <message>
   <source>{target} is not allowed: {why}: single-lowering or single-raise</source>
   <translation>{target} ist nicht erlaubt: {why}: single-lowering oder single-raise</translation>
  </message>
  <message>
   <source>{title}  –  chosen</source>
   <translation>{title}  –  gewählt</translation>
  </message>
  <message>
   <source>{told}, but {asked}: move it nearer, or use another socket</source>
   <translation>{told}, aber {asked}: näher bringen, oder einen anderen Anschluss nehmen</translation>
  </message>
  <message>
   <source>{told}, but {asked}: was this computer busy? Close other programs, and wait 10 s</source>
   <translation>{told}, aber {asked}: War der Computer beschäftigt? Andere Programme schließen und 10 s warten</translation>
  </message>
  <message>
   <source>{told}, share {share} % in the newest two</source>
   <translation>{told}, Anteil {share} % in den neuesten zwei</translation>
  </message>
  <message>
   <source>{upper:g} % or less</source>
   <translation>{upper:g} % oder weniger</translation>
  </message>
  <message>
   <source>{value:.1f} {unit} on the scale</source>
   <translation>{value:.1f} {unit} auf der Waage</translation>
  </message>
  <message>
   <source>{value:.1f} ± {expanded:.1f} % more than the other.</source>
   <translation>{value:.1f} ± {expanded:.1f} % mehr als die andere.</translation>
  </message>
  <message>
   <source>{value:g}: it may be {low:g} to {high:g} {unit}</source>
   <translation>{value:g}: erlaubt ist {low:g} bis {high:g} {unit}</translation>
  </message>
  <message>
   <source>{value} is not allowed: write {allowed}</source>
   <translation>{value} ist nicht erlaubt: Schreiben Sie {allowed}</translation>
  </message>
  <message>
   <source>{value} is out of range: it may be {low} to {high}</source>
   <translation>{value} liegt außerhalb: erlaubt ist {low} bis {high}</translation>
  </message>
  <message>
   <source>{value} is out of range: it may be {low} to {high} {unit}</source>
   <translation>{value} liegt außerhalb: erlaubt ist {low} bis {high} {unit}</translation>
  </message>
  <message>
   <source>{verb}, evenly on both feet.</source>
   <translation>{verb}, gleich auf beiden Füßen.</translation>
  </message>
  <message>
   <source>{verdict:C}: it varies by up to {mdc}{unit} from day to day without any change.</source>
   <translation>{verdict:C}: Um bis zu {mdc}{unit} schwankt es von Tag zu Tag ohne jede Änderung.</translation>
  </message>
  <message>
   <source>{verdict} in {numbers}</source>
   <translation>{verdict} in {numbers}</translation>
  </message>
  <message>
   <source>{warning:C}.</source>
   <translation>{warning:C}.</translation>
  </message>
  <message>
   <source>{weekday}, {day} {month}</source>
   <translation>{weekday}, {day}. {month}</translation>
  </message>
  <message>
   <source>{what}; change one of them</source>
   <translation>{what}; ändern Sie eines davon</translation>
  </message>
  <message>
   <source>{who}: {made}, which holds until {until}.</source>
   <translation>{who}: {made}, gültig bis {until}.</translation>
  </message>
  <message>
   <source>{who}: {made}; that held until {until}, and was out of date in this session.</source>
   <translation>{who}: {made}; gültig war das bis {until} und in dieser Sitzung abgelaufen.</translation>
  </message>
  <message>
   <source>{who}: {made}; until when that holds is not told.</source>
   <translation>{who}: {made}; bis wann das gilt, ist nicht angegeben.</translation>
  </message>
  <message>
   <source>{why}; for one leg choose {stages}</source>
   <translation>{why}; für ein Bein wählen Sie {stages}</translation>
  </message>
  <message>
   <source>{why}; trying again</source>
   <translation>{why}; es wird neu versucht</translation>
  </message>
  <message>
   <source>{why}; trying to connect again</source>
   <translation>{why}; die Verbindung wird neu versucht</translation>
  </message>
  <message>
   <source>{words} begins no table; a stage begins with a line [[stages]]</source>
   <translation>{words} beginnt keine Tabelle; eine Stufe beginnt mit einer Zeile [[stages]]</translation>
  </message>
  <message>
   <source>{words} is no limit; write it as {allowed}</source>
   <translation>{words} ist keine Grenze; schreiben Sie sie als {allowed}</translation>
  </message>
  <message>
   <source>{words} is no line of a programme; a line says key = value</source>
   <translation>{words} ist keine Zeile eines Programms; eine Zeile heißt Schlüssel = Wert</translation>
  </message>
  <message>
   <source>{words} is no text in quotes, which says where the number comes from</source>
   <translation>{words} ist kein Text in Anführungszeichen, der sagt, woher die Zahl kommt</translation>
  </message>
  <message>
   <source>{words} is no text in quotes; write it as {allowed}</source>
   <translation>{words} ist kein Text in Anführungszeichen; geschrieben wird {allowed}</translation>
  </message>
  <message>
   <source>{words} is that of stage {stage} too; each stage has its own</source>
   <translation>{words} hat auch die Stufe {stage}; jede Stufe hat einen eigenen</translation>
  </message>
  <message>
   <source>{words} is to be {head}</source>
   <translation>{words} muss {head} heißen</translation>
  </message>
  <message>
   <source>{words}; not known of this patient yet: this task was done on {count} day, and it takes {least}</source>
   <translation>{words}; von dieser Person noch nicht bekannt: Diese Aufgabe wurde an {count} Tag gemacht, und es braucht {least}</translation>
  </message>
  <message>
   <source>{words}; not known of this patient yet: this task was done on {count} days, and it takes {least}</source>
   <translation>{words}; von dieser Person noch nicht bekannt: Diese Aufgabe wurde an {count} Tagen gemacht, und es braucht {least}</translation>
  </message>
  <message>
   <source>{words}; of this index some {percent} %</source>
   <translation>{words}; von diesem Index etwa {percent} %</translation>
  </message>
  <message>
   <source>± p&amp;oints</source>
   <translation>± &amp;Punkte</translation>
  </message>
  <message>
   <source>± points</source>
   <translation>± Punkte</translation>
  </message>
  <message>
   <source>± {points:.2f} points (k = 2)</source>
   <translation>± {points:.2f} Punkte (k = 2)</translation>
  </message>
  <message>
   <source>“{part}” is no mass; write kilograms as in 5, 10, 20, 20</source>
   <translation>„{part}“ ist keine Masse; schreiben Sie Kilogramm wie in 5, 10, 20, 20</translation>
  </message>
  <message>
   <source>“{text}” is no number</source>
   <translation>„{text}“ ist keine Zahl</translation>
  </message>
  <message numerus="yes">
   <source>… and {n} more.</source>
   <comment>counted</comment>
   <translation>
    <numerusform>… und {n} weiterer.</numerusform>
    <numerusform>… und {n} weitere.</numerusform>
   </translation>
  </message>
  <message>
   <source>← → press with a virtual foot   ·   </source>
   <translation>← → mit einem virtuellen Fuß drücken   ·   </translation>
  </message>
  <message>
   <source>↑ ↓ move   ·   B: show its light   ·   L, R: tell by hand that it is the left, the right one   ·   Backspace: back   ·   Esc: leave</source>
   <translation>↑ ↓ wählen   ·   B: Licht zeigen   ·   L, R: von Hand sagen, dass es die linke, die rechte ist   ·   Rücktaste: zurück   ·   Esc: verlassen</translation>
  </message>
  <message>
   <source>↑ ↓ move   ·   Backspace: back   ·   Esc: leave</source>
   <translation>↑ ↓ wählen   ·   Rücktaste: zurück   ·   Esc: verlassen</translation>
  </message>
  <message>
   <source>↑ ↓ move   ·   C: calibrate this one   ·   Backspace: back   ·   Esc: leave</source>
   <translation>↑ ↓ wählen   ·   C: diese kalibrieren   ·   Rücktaste: zurück   ·   Esc: verlassen</translation>
  </message>
  <message>
   <source>↑ ↓ move   ·   Space: choose   ·   B: show its light   ·   Esc: leave</source>
   <translation>↑ ↓ wählen   ·   Leertaste: nehmen   ·   B: Licht zeigen   ·   Esc: verlassen</translation>
  </message>
  <message>
   <source>▲ laid on   ▽ taken off   ◇ in a quarter</source>
   <translation>▲ aufgelegt   ▽ abgenommen   ◇ in einem Viertel</translation>
  </message>
  <message>
   <source>▲ left   ▽ right   dashed: beyond it, have the scale calibrated</source>
   <translation>▲ links   ▽ rechts   gestrichelt: darüber die Waage kalibrieren lassen</translation>
  </message>
  <message>
   <source>◆ and {count} more, in the file</source>
   <translation>◆ und {count} weitere, in der Datei</translation>
  </message>
  <message>
   <source>◇ with its 95 % interval</source>
   <translation>◇ mit 95-%-Intervall</translation>
  </message>
 </context>
</TS>
