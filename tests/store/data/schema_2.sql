-- A logbook of schema 2 as that version saved it. Never change this file: it stands for those that people have.
PRAGMA application_id = 1506374089;
PRAGMA user_version = 2;
BEGIN TRANSACTION;
CREATE TABLE answers (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    measurement_id INTEGER NOT NULL REFERENCES measurements (id),
    reading_id INTEGER REFERENCES readings (id),
    code TEXT NOT NULL CHECK (code <> ''),
    about TEXT NOT NULL,
    answered_at TEXT NOT NULL CHECK (answered_at GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]T[0-9][0-9]:[0-9][0-9]:[0-9][0-9]Z'),
    answered_offset_min INTEGER NOT NULL CHECK (answered_offset_min BETWEEN -1439 AND 1439)
) STRICT
;
INSERT INTO "answers" VALUES(1,1,4,'odd_reading','2025-04-04T07:30:00+01:00 4.76','2025-04-05T06:30:00Z',60);
INSERT INTO "answers" VALUES(2,2,NULL,'varies_much','','2025-04-08T07:00:00Z',60);
CREATE TABLE appliances (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    name TEXT NOT NULL CHECK (name <> ''),
    kind TEXT NOT NULL CHECK (kind <> ''),
    room TEXT NOT NULL,
    role TEXT NOT NULL CHECK (role IN ('essential', 'wanted', 'off')),
    plug TEXT NOT NULL CHECK (plug <> ''),
    voltage_v REAL CHECK (voltage_v BETWEEN 0 AND 1000),
    nameplate_w REAL CHECK (nameplate_w BETWEEN 0 AND 1e6),
    running_w REAL CHECK (running_w BETWEEN 0 AND 1e6),
    target REAL CHECK (target > 0 AND target <= 10),
    hard_wired INTEGER NOT NULL CHECK (hard_wired IN (0, 1)),
    medical INTEGER NOT NULL CHECK (medical IN (0, 1)),
    note TEXT NOT NULL
, cycling TEXT NOT NULL DEFAULT 'not_known' CHECK (cycling IN ('not_known', 'on_and_off', 'frost_free', 'variable_speed'))) STRICT
;
INSERT INTO "appliances" VALUES(1,'Cellar freezer','freezer','Cellar','essential','bs_1363',230.0,140.0,NULL,NULL,0,0,'','on_and_off');
INSERT INTO "appliances" VALUES(2,'Router','always_on','Hall','essential','unknown',NULL,NULL,NULL,NULL,0,0,'','not_known');
INSERT INTO "appliances" VALUES(3,'Hall heat pump','climate','Hall','wanted','unknown',NULL,1200.0,NULL,NULL,1,0,'','variable_speed');
INSERT INTO "appliances" VALUES(4,'Kettle','kitchen','Kitchen','off','unknown',NULL,NULL,NULL,NULL,0,0,'','not_known');
CREATE TABLE household (
    id INTEGER PRIMARY KEY CHECK (id = 1),
    name TEXT NOT NULL,
    mains_voltage_v REAL NOT NULL CHECK (mains_voltage_v BETWEEN 1 AND 1000),
    mains_frequency_hz REAL NOT NULL CHECK (mains_frequency_hz BETWEEN 1 AND 1000),
    default_plug TEXT NOT NULL CHECK (default_plug <> ''),
    price_per_kwh REAL CHECK (price_per_kwh BETWEEN 0 AND 1e9),
    currency TEXT NOT NULL,
    note TEXT NOT NULL
) STRICT
;
INSERT INTO "household" VALUES(1,'Ford house',230.0,50.0,'bs_1363',NULL,'','');
CREATE TABLE journal (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    edit TEXT NOT NULL CHECK (edit <> ''),
    edited_at TEXT NOT NULL CHECK (edited_at GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]T[0-9][0-9]:[0-9][0-9]:[0-9][0-9]Z'),
    edited_offset_min INTEGER NOT NULL CHECK (edited_offset_min BETWEEN -1439 AND 1439),
    table_name TEXT NOT NULL,
    row_key INTEGER NOT NULL,
    before TEXT,
    after TEXT,
    CHECK (before IS NOT NULL OR after IS NOT NULL)
) STRICT
;
INSERT INTO "journal" VALUES(1,'new logbook','2025-04-01T06:30:00Z',60,'household',1,NULL,'{"id": 1, "name": "Ford house", "mains_voltage_v": 230.0, "mains_frequency_hz": 50.0, "default_plug": "bs_1363", "price_per_kwh": null, "currency": "", "note": ""}');
INSERT INTO "journal" VALUES(2,'add appliance: Cellar freezer','2025-04-01T06:30:00Z',60,'appliances',1,NULL,'{"id": 1, "name": "Cellar freezer", "kind": "freezer", "room": "Cellar", "role": "essential", "plug": "bs_1363", "voltage_v": 230.0, "nameplate_w": 140.0, "running_w": null, "target": null, "hard_wired": 0, "medical": 0, "note": "", "cycling": "on_and_off"}');
INSERT INTO "journal" VALUES(3,'add appliance: Router','2025-04-01T06:30:00Z',60,'appliances',2,NULL,'{"id": 2, "name": "Router", "kind": "always_on", "room": "Hall", "role": "essential", "plug": "unknown", "voltage_v": null, "nameplate_w": null, "running_w": null, "target": null, "hard_wired": 0, "medical": 0, "note": "", "cycling": "not_known"}');
INSERT INTO "journal" VALUES(4,'add appliance: Hall heat pump','2025-04-01T06:30:00Z',60,'appliances',3,NULL,'{"id": 3, "name": "Hall heat pump", "kind": "climate", "room": "Hall", "role": "wanted", "plug": "unknown", "voltage_v": null, "nameplate_w": 1200.0, "running_w": null, "target": null, "hard_wired": 1, "medical": 0, "note": "", "cycling": "variable_speed"}');
INSERT INTO "journal" VALUES(5,'add appliance: Kettle','2025-04-01T06:30:00Z',60,'appliances',4,NULL,'{"id": 4, "name": "Kettle", "kind": "kitchen", "room": "Kitchen", "role": "off", "plug": "unknown", "voltage_v": null, "nameplate_w": null, "running_w": null, "target": null, "hard_wired": 0, "medical": 0, "note": "", "cycling": "not_known"}');
INSERT INTO "journal" VALUES(6,'add meter: Grey meter','2025-04-01T06:30:00Z',60,'meters',1,NULL,'{"id": 1, "name": "Grey meter", "plug": "bs_1363", "voltage_v": 230.0, "current_a": 13.0, "energy_step_kwh": 0.01, "elapsed_step_h": 0.016666666666666666, "gain_percent": 1.0, "power_loss": "keeps", "rounding": "truncates", "note": ""}');
INSERT INTO "journal" VALUES(7,'start measurement: Cellar freezer','2025-04-01T06:30:00Z',60,'measurements',1,NULL,'{"id": 1, "appliance_id": 1, "meter_id": 1, "state": "running", "started_at": "2025-04-01T06:30:00Z", "started_offset_min": 60, "finished_at": null, "finished_offset_min": null, "room_temperature_c": null, "note": "", "joined": 0}');
INSERT INTO "journal" VALUES(8,'start measurement: Cellar freezer','2025-04-01T06:30:00Z',60,'runs',1,NULL,'{"id": 1, "measurement_id": 1, "number": 1, "meter_id": 1, "cause": "start", "began_at": "2025-04-01T06:30:00Z", "began_offset_min": 60, "exact_start": 1}');
INSERT INTO "journal" VALUES(9,'start measurement: Cellar freezer','2025-04-01T06:30:00Z',60,'readings',1,NULL,'{"id": 1, "run_id": 1, "taken_at": "2025-04-01T06:30:00Z", "taken_offset_min": 60, "energy_kwh": 0.0, "elapsed_h": 0.0, "power_w": null, "voltage_v": null, "current_a": null, "power_factor": null, "highest_power_w": null, "frequency_hz": null, "state": null, "uses": null, "room_temperature_c": null, "note": ""}');
INSERT INTO "journal" VALUES(10,'add reading: Cellar freezer','2025-04-02T06:30:00Z',60,'readings',2,NULL,'{"id": 2, "run_id": 1, "taken_at": "2025-04-02T06:30:00Z", "taken_offset_min": 60, "energy_kwh": 0.91, "elapsed_h": 24.0, "power_w": null, "voltage_v": null, "current_a": null, "power_factor": null, "highest_power_w": null, "frequency_hz": null, "state": null, "uses": null, "room_temperature_c": null, "note": ""}');
INSERT INTO "journal" VALUES(11,'add reading: Cellar freezer','2025-04-03T06:30:00Z',60,'readings',3,NULL,'{"id": 3, "run_id": 1, "taken_at": "2025-04-03T06:30:00Z", "taken_offset_min": 60, "energy_kwh": 1.83, "elapsed_h": 48.0, "power_w": null, "voltage_v": null, "current_a": null, "power_factor": null, "highest_power_w": null, "frequency_hz": null, "state": null, "uses": null, "room_temperature_c": null, "note": ""}');
INSERT INTO "journal" VALUES(12,'add reading: Cellar freezer','2025-04-04T06:30:00Z',60,'readings',4,NULL,'{"id": 4, "run_id": 1, "taken_at": "2025-04-04T06:30:00Z", "taken_offset_min": 60, "energy_kwh": 4.76, "elapsed_h": 72.0, "power_w": null, "voltage_v": null, "current_a": null, "power_factor": null, "highest_power_w": null, "frequency_hz": null, "state": null, "uses": null, "room_temperature_c": null, "note": ""}');
INSERT INTO "journal" VALUES(13,'add reading: Cellar freezer','2025-04-05T06:30:00Z',60,'readings',5,NULL,'{"id": 5, "run_id": 1, "taken_at": "2025-04-05T06:30:00Z", "taken_offset_min": 60, "energy_kwh": 5.7, "elapsed_h": 96.0, "power_w": null, "voltage_v": null, "current_a": null, "power_factor": null, "highest_power_w": null, "frequency_hz": null, "state": null, "uses": null, "room_temperature_c": null, "note": ""}');
INSERT INTO "journal" VALUES(14,'answer a doubt: Cellar freezer','2025-04-05T06:30:00Z',60,'answers',1,NULL,'{"id": 1, "measurement_id": 1, "reading_id": 4, "code": "odd_reading", "about": "2025-04-04T07:30:00+01:00 4.76", "answered_at": "2025-04-05T06:30:00Z", "answered_offset_min": 60}');
INSERT INTO "journal" VALUES(15,'finish measurement: Cellar freezer','2025-04-05T06:30:00Z',60,'measurements',1,'{"id": 1, "appliance_id": 1, "meter_id": 1, "state": "running", "started_at": "2025-04-01T06:30:00Z", "started_offset_min": 60, "finished_at": null, "finished_offset_min": null, "room_temperature_c": null, "note": "", "joined": 0}','{"id": 1, "appliance_id": 1, "meter_id": 1, "state": "finished", "started_at": "2025-04-01T06:30:00Z", "started_offset_min": 60, "finished_at": "2025-04-05T06:30:00Z", "finished_offset_min": 60, "room_temperature_c": null, "note": "", "joined": 0}');
INSERT INTO "journal" VALUES(16,'start measurement: Cellar freezer','2025-04-06T07:00:00Z',60,'measurements',2,NULL,'{"id": 2, "appliance_id": 1, "meter_id": 1, "state": "running", "started_at": "2025-04-06T07:00:00Z", "started_offset_min": 60, "finished_at": null, "finished_offset_min": null, "room_temperature_c": null, "note": "", "joined": 0}');
INSERT INTO "journal" VALUES(17,'start measurement: Cellar freezer','2025-04-06T07:00:00Z',60,'runs',2,NULL,'{"id": 2, "measurement_id": 2, "number": 1, "meter_id": 1, "cause": "start", "began_at": "2025-04-06T07:00:00Z", "began_offset_min": 60, "exact_start": 0}');
INSERT INTO "journal" VALUES(18,'start measurement: Cellar freezer','2025-04-06T07:00:00Z',60,'readings',6,NULL,'{"id": 6, "run_id": 2, "taken_at": "2025-04-06T07:00:00Z", "taken_offset_min": 60, "energy_kwh": 5.7, "elapsed_h": null, "power_w": null, "voltage_v": null, "current_a": null, "power_factor": null, "highest_power_w": null, "frequency_hz": null, "state": null, "uses": null, "room_temperature_c": null, "note": ""}');
INSERT INTO "journal" VALUES(19,'add reading: Cellar freezer','2025-04-07T07:00:00Z',60,'readings',7,NULL,'{"id": 7, "run_id": 2, "taken_at": "2025-04-07T07:00:00Z", "taken_offset_min": 60, "energy_kwh": 6.6, "elapsed_h": null, "power_w": null, "voltage_v": null, "current_a": null, "power_factor": null, "highest_power_w": null, "frequency_hz": null, "state": null, "uses": null, "room_temperature_c": null, "note": ""}');
INSERT INTO "journal" VALUES(20,'add reading: Cellar freezer','2025-04-08T07:00:00Z',60,'readings',8,NULL,'{"id": 8, "run_id": 2, "taken_at": "2025-04-08T07:00:00Z", "taken_offset_min": 60, "energy_kwh": 7.5, "elapsed_h": null, "power_w": 92.0, "voltage_v": null, "current_a": null, "power_factor": null, "highest_power_w": null, "frequency_hz": null, "state": "running", "uses": null, "room_temperature_c": 11.0, "note": ""}');
INSERT INTO "journal" VALUES(21,'join measurements: Cellar freezer','2025-04-08T07:00:00Z',60,'measurements',2,'{"id": 2, "appliance_id": 1, "meter_id": 1, "state": "running", "started_at": "2025-04-06T07:00:00Z", "started_offset_min": 60, "finished_at": null, "finished_offset_min": null, "room_temperature_c": null, "note": "", "joined": 0}','{"id": 2, "appliance_id": 1, "meter_id": 1, "state": "running", "started_at": "2025-04-06T07:00:00Z", "started_offset_min": 60, "finished_at": null, "finished_offset_min": null, "room_temperature_c": null, "note": "", "joined": 1}');
INSERT INTO "journal" VALUES(22,'answer a doubt: Cellar freezer','2025-04-08T07:00:00Z',60,'answers',2,NULL,'{"id": 2, "measurement_id": 2, "reading_id": null, "code": "varies_much", "about": "", "answered_at": "2025-04-08T07:00:00Z", "answered_offset_min": 60}');
INSERT INTO "journal" VALUES(23,'answer a doubt: Cellar freezer','2025-04-08T07:00:00Z',60,'answers',3,NULL,'{"id": 3, "measurement_id": 2, "reading_id": null, "code": "counter_back", "about": "", "answered_at": "2025-04-08T07:00:00Z", "answered_offset_min": 60}');
INSERT INTO "journal" VALUES(24,'undo: answer a doubt: Cellar freezer','2025-04-08T07:00:00Z',60,'answers',3,'{"id": 3, "measurement_id": 2, "reading_id": null, "code": "counter_back", "about": "", "answered_at": "2025-04-08T07:00:00Z", "answered_offset_min": 60}',NULL);
INSERT INTO "journal" VALUES(25,'plan measurement: Router','2025-04-08T07:00:00Z',60,'measurements',3,NULL,'{"id": 3, "appliance_id": 2, "meter_id": null, "state": "planned", "started_at": null, "started_offset_min": null, "finished_at": null, "finished_offset_min": null, "room_temperature_c": null, "note": "", "joined": 0}');
INSERT INTO "journal" VALUES(26,'add reading: Cellar freezer','2025-04-09T06:30:00Z',60,'readings',9,NULL,'{"id": 9, "run_id": 2, "taken_at": "2025-04-09T06:30:00Z", "taken_offset_min": 60, "energy_kwh": 8.5, "elapsed_h": null, "power_w": null, "voltage_v": null, "current_a": null, "power_factor": null, "highest_power_w": null, "frequency_hz": null, "state": null, "uses": null, "room_temperature_c": null, "note": ""}');
INSERT INTO "journal" VALUES(27,'undo: add reading: Cellar freezer','2025-04-09T06:30:00Z',60,'readings',9,'{"id": 9, "run_id": 2, "taken_at": "2025-04-09T06:30:00Z", "taken_offset_min": 60, "energy_kwh": 8.5, "elapsed_h": null, "power_w": null, "voltage_v": null, "current_a": null, "power_factor": null, "highest_power_w": null, "frequency_hz": null, "state": null, "uses": null, "room_temperature_c": null, "note": ""}',NULL);
CREATE TABLE measurements (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    appliance_id INTEGER NOT NULL REFERENCES appliances (id),
    meter_id INTEGER REFERENCES meters (id),
    state TEXT NOT NULL CHECK (state IN ('planned', 'running', 'finished', 'set_aside')),
    started_at TEXT CHECK (started_at GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]T[0-9][0-9]:[0-9][0-9]:[0-9][0-9]Z'),
    started_offset_min INTEGER CHECK (started_offset_min BETWEEN -1439 AND 1439),
    finished_at TEXT CHECK (finished_at GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]T[0-9][0-9]:[0-9][0-9]:[0-9][0-9]Z'),
    finished_offset_min INTEGER CHECK (finished_offset_min BETWEEN -1439 AND 1439),
    room_temperature_c REAL CHECK (room_temperature_c BETWEEN -100 AND 100),
    note TEXT NOT NULL, joined INTEGER NOT NULL DEFAULT 0 CHECK (joined IN (0, 1)),
    CHECK ((started_at IS NULL) = (started_offset_min IS NULL)),
    CHECK ((finished_at IS NULL) = (finished_offset_min IS NULL)),
    CHECK ((state = 'planned') = (started_at IS NULL)),
    CHECK (state = 'planned' OR meter_id IS NOT NULL),
    CHECK (state <> 'finished' OR finished_at IS NOT NULL),
    CHECK (state NOT IN ('planned', 'running') OR finished_at IS NULL)
) STRICT
;
INSERT INTO "measurements" VALUES(1,1,1,'finished','2025-04-01T06:30:00Z',60,'2025-04-05T06:30:00Z',60,NULL,'',0);
INSERT INTO "measurements" VALUES(2,1,1,'running','2025-04-06T07:00:00Z',60,NULL,NULL,NULL,'',1);
INSERT INTO "measurements" VALUES(3,2,NULL,'planned',NULL,NULL,NULL,NULL,NULL,'',0);
CREATE TABLE meters (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    name TEXT NOT NULL CHECK (name <> ''),
    plug TEXT NOT NULL CHECK (plug <> ''),
    voltage_v REAL CHECK (voltage_v BETWEEN 0 AND 1000),
    current_a REAL CHECK (current_a BETWEEN 0 AND 1e4),
    energy_step_kwh REAL NOT NULL CHECK (energy_step_kwh > 0 AND energy_step_kwh <= 1000),
    elapsed_step_h REAL NOT NULL CHECK (elapsed_step_h > 0 AND elapsed_step_h <= 1000),
    gain_percent REAL CHECK (gain_percent > 0 AND gain_percent <= 100),
    power_loss TEXT NOT NULL CHECK (power_loss IN ('keeps', 'resets', 'unknown')),
    rounding TEXT NOT NULL CHECK (rounding IN ('unknown', 'truncates', 'rounds')),
    note TEXT NOT NULL
) STRICT
;
INSERT INTO "meters" VALUES(1,'Grey meter','bs_1363',230.0,13.0,0.01,1.66666666666666664353e-02,1.0,'keeps','truncates','');
CREATE TABLE readings (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    run_id INTEGER NOT NULL REFERENCES runs (id),
    taken_at TEXT NOT NULL CHECK (taken_at GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]T[0-9][0-9]:[0-9][0-9]:[0-9][0-9]Z'),
    taken_offset_min INTEGER NOT NULL CHECK (taken_offset_min BETWEEN -1439 AND 1439),
    energy_kwh REAL NOT NULL CHECK (energy_kwh BETWEEN 0 AND 1e9),
    elapsed_h REAL CHECK (elapsed_h BETWEEN 0 AND 1e7),
    power_w REAL CHECK (power_w BETWEEN 0 AND 1e6),
    voltage_v REAL CHECK (voltage_v BETWEEN 0 AND 1000),
    current_a REAL CHECK (current_a BETWEEN 0 AND 1e4),
    power_factor REAL CHECK (power_factor BETWEEN 0 AND 1),
    highest_power_w REAL CHECK (highest_power_w BETWEEN 0 AND 1e6),
    frequency_hz REAL CHECK (frequency_hz BETWEEN 0 AND 1000),
    state TEXT CHECK (state IN ('running', 'idle', 'heating')),
    uses INTEGER CHECK (uses BETWEEN 0 AND 1000000),
    room_temperature_c REAL CHECK (room_temperature_c BETWEEN -100 AND 100),
    note TEXT NOT NULL,
    UNIQUE (run_id, taken_at)
) STRICT
;
INSERT INTO "readings" VALUES(1,1,'2025-04-01T06:30:00Z',60,0.0,0.0,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'');
INSERT INTO "readings" VALUES(2,1,'2025-04-02T06:30:00Z',60,0.91,24.0,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'');
INSERT INTO "readings" VALUES(3,1,'2025-04-03T06:30:00Z',60,1.83,48.0,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'');
INSERT INTO "readings" VALUES(4,1,'2025-04-04T06:30:00Z',60,4.76,72.0,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'');
INSERT INTO "readings" VALUES(5,1,'2025-04-05T06:30:00Z',60,5.7,96.0,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'');
INSERT INTO "readings" VALUES(6,2,'2025-04-06T07:00:00Z',60,5.7,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'');
INSERT INTO "readings" VALUES(7,2,'2025-04-07T07:00:00Z',60,6.6,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'');
INSERT INTO "readings" VALUES(8,2,'2025-04-08T07:00:00Z',60,7.5,NULL,92.0,NULL,NULL,NULL,NULL,NULL,'running',NULL,11.0,'');
CREATE TABLE runs (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    measurement_id INTEGER NOT NULL REFERENCES measurements (id),
    number INTEGER NOT NULL CHECK (number >= 1),
    meter_id INTEGER NOT NULL REFERENCES meters (id),
    cause TEXT NOT NULL CHECK (cause IN ('start', 'reset', 'swap')),
    began_at TEXT NOT NULL CHECK (began_at GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]T[0-9][0-9]:[0-9][0-9]:[0-9][0-9]Z'),
    began_offset_min INTEGER NOT NULL CHECK (began_offset_min BETWEEN -1439 AND 1439),
    exact_start INTEGER NOT NULL CHECK (exact_start IN (0, 1)),
    CHECK ((number = 1) = (cause = 'start')),
    UNIQUE (measurement_id, number)
) STRICT
;
INSERT INTO "runs" VALUES(1,1,1,1,'start','2025-04-01T06:30:00Z',60,1);
INSERT INTO "runs" VALUES(2,2,1,1,'start','2025-04-06T07:00:00Z',60,0);
CREATE UNIQUE INDEX one_appliance_of_a_name ON appliances (name COLLATE NOCASE);
CREATE UNIQUE INDEX one_meter_of_a_name ON meters (name COLLATE NOCASE);
CREATE UNIQUE INDEX one_running_per_meter ON measurements (meter_id) WHERE state = 'running';
CREATE UNIQUE INDEX one_running_per_appliance ON measurements (appliance_id) WHERE state = 'running';
CREATE INDEX measurements_by_appliance ON measurements (appliance_id);
CREATE INDEX measurements_by_meter ON measurements (meter_id);
CREATE INDEX runs_by_meter ON runs (meter_id);
CREATE TRIGGER journal_is_never_rewritten BEFORE UPDATE ON journal
BEGIN SELECT raise(ABORT, 'the journal is never rewritten'); END;
CREATE TRIGGER journal_is_never_shortened BEFORE DELETE ON journal
BEGIN SELECT raise(ABORT, 'the journal is never shortened'); END;
CREATE INDEX answers_by_measurement ON answers (measurement_id);
CREATE INDEX answers_by_reading ON answers (reading_id);
DELETE FROM "sqlite_sequence";
INSERT INTO "sqlite_sequence" VALUES('journal',27);
INSERT INTO "sqlite_sequence" VALUES('appliances',4);
INSERT INTO "sqlite_sequence" VALUES('meters',1);
INSERT INTO "sqlite_sequence" VALUES('measurements',3);
INSERT INTO "sqlite_sequence" VALUES('runs',2);
INSERT INTO "sqlite_sequence" VALUES('readings',9);
INSERT INTO "sqlite_sequence" VALUES('answers',3);
COMMIT;
