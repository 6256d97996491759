-- A logbook of schema 1 as that version saved it. Never change this file: it stands for those that people have.
PRAGMA application_id = 1506374089;
PRAGMA user_version = 1;
BEGIN TRANSACTION;
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
) STRICT
;
INSERT INTO "appliances" VALUES(1,'Larder refrigerator','refrigerator','Larder','essential','cee_7',230.0,120.0,85.0,0.15,0,0,'hums');
INSERT INTO "appliances" VALUES(2,'Router','always_on','Hall','essential','unknown',NULL,NULL,NULL,NULL,0,0,'');
INSERT INTO "appliances" VALUES(3,'Oven','kitchen','Kitchen','off','unknown',NULL,3300.0,NULL,NULL,1,0,'');
INSERT INTO "appliances" VALUES(4,'Breathing aid','evening_electronics','Bedroom','essential','unknown',NULL,NULL,NULL,NULL,0,1,'');
INSERT INTO "appliances" VALUES(5,'Lamp','lamp_timer','Hall','wanted','unknown',NULL,NULL,NULL,NULL,0,0,'');
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
INSERT INTO "household" VALUES(1,'Mill lane',230.0,50.0,'cee_7',0.31,'EUR','Key under the pot.');
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
INSERT INTO "journal" VALUES(1,'new logbook','2025-03-03T06:30:00Z',60,'household',1,NULL,'{"id": 1, "name": "Mill lane", "mains_voltage_v": 230.0, "mains_frequency_hz": 50.0, "default_plug": "cee_7", "price_per_kwh": 0.31, "currency": "EUR", "note": "Key under the pot."}');
INSERT INTO "journal" VALUES(2,'add appliance: Larder refrigerator','2025-03-03T06:30:00Z',60,'appliances',1,NULL,'{"id": 1, "name": "Larder refrigerator", "kind": "refrigerator", "room": "Larder", "role": "essential", "plug": "cee_7", "voltage_v": 230.0, "nameplate_w": 120.0, "running_w": 85.0, "target": 0.15, "hard_wired": 0, "medical": 0, "note": "hums"}');
INSERT INTO "journal" VALUES(3,'add appliance: Router','2025-03-03T06:30:00Z',60,'appliances',2,NULL,'{"id": 2, "name": "Router", "kind": "always_on", "room": "Hall", "role": "essential", "plug": "unknown", "voltage_v": null, "nameplate_w": null, "running_w": null, "target": null, "hard_wired": 0, "medical": 0, "note": ""}');
INSERT INTO "journal" VALUES(4,'add appliance: Oven','2025-03-03T06:30:00Z',60,'appliances',3,NULL,'{"id": 3, "name": "Oven", "kind": "kitchen", "room": "Kitchen", "role": "off", "plug": "unknown", "voltage_v": null, "nameplate_w": 3300.0, "running_w": null, "target": null, "hard_wired": 1, "medical": 0, "note": ""}');
INSERT INTO "journal" VALUES(5,'add appliance: Breathing aid','2025-03-03T06:30:00Z',60,'appliances',4,NULL,'{"id": 4, "name": "Breathing aid", "kind": "evening_electronics", "room": "Bedroom", "role": "essential", "plug": "unknown", "voltage_v": null, "nameplate_w": null, "running_w": null, "target": null, "hard_wired": 0, "medical": 1, "note": ""}');
INSERT INTO "journal" VALUES(6,'add appliance: Lamp','2025-03-03T06:30:00Z',60,'appliances',5,NULL,'{"id": 5, "name": "Lamp", "kind": "lamp_timer", "room": "Hall", "role": "wanted", "plug": "unknown", "voltage_v": null, "nameplate_w": null, "running_w": null, "target": null, "hard_wired": 0, "medical": 0, "note": ""}');
INSERT INTO "journal" VALUES(7,'add meter: Grey meter','2025-03-03T06:30:00Z',60,'meters',1,NULL,'{"id": 1, "name": "Grey meter", "plug": "cee_7", "voltage_v": 230.0, "current_a": 16.0, "energy_step_kwh": 0.01, "elapsed_step_h": 0.016666666666666666, "gain_percent": 1.0, "power_loss": "keeps", "rounding": "truncates", "note": "borrowed"}');
INSERT INTO "journal" VALUES(8,'add meter: Blue meter','2025-03-03T06:30:00Z',60,'meters',2,NULL,'{"id": 2, "name": "Blue meter", "plug": "unknown", "voltage_v": null, "current_a": null, "energy_step_kwh": 0.01, "elapsed_step_h": 0.016666666666666666, "gain_percent": null, "power_loss": "unknown", "rounding": "unknown", "note": ""}');
INSERT INTO "journal" VALUES(9,'start measurement: Larder refrigerator','2025-03-03T06:30:00Z',60,'measurements',1,NULL,'{"id": 1, "appliance_id": 1, "meter_id": 1, "state": "running", "started_at": "2025-03-03T06:30:00Z", "started_offset_min": 60, "finished_at": null, "finished_offset_min": null, "room_temperature_c": null, "note": ""}');
INSERT INTO "journal" VALUES(10,'start measurement: Larder refrigerator','2025-03-03T06:30:00Z',60,'runs',1,NULL,'{"id": 1, "measurement_id": 1, "number": 1, "meter_id": 1, "cause": "start", "began_at": "2025-03-03T06:30:00Z", "began_offset_min": 60, "exact_start": 1}');
INSERT INTO "journal" VALUES(11,'start measurement: Larder refrigerator','2025-03-03T06:30:00Z',60,'readings',1,NULL,'{"id": 1, "run_id": 1, "taken_at": "2025-03-03T06:30:00Z", "taken_offset_min": 60, "energy_kwh": 0.0, "elapsed_h": 0.0, "power_w": null, "voltage_v": null, "current_a": null, "power_factor": null, "highest_power_w": null, "frequency_hz": null, "state": null, "uses": null, "room_temperature_c": null, "note": ""}');
INSERT INTO "journal" VALUES(12,'describe measurement: Larder refrigerator','2025-03-03T06:30:00Z',60,'measurements',1,'{"id": 1, "appliance_id": 1, "meter_id": 1, "state": "running", "started_at": "2025-03-03T06:30:00Z", "started_offset_min": 60, "finished_at": null, "finished_offset_min": null, "room_temperature_c": null, "note": ""}','{"id": 1, "appliance_id": 1, "meter_id": 1, "state": "running", "started_at": "2025-03-03T06:30:00Z", "started_offset_min": 60, "finished_at": null, "finished_offset_min": null, "room_temperature_c": 17.5, "note": "door shut"}');
INSERT INTO "journal" VALUES(13,'add reading: Larder refrigerator','2025-03-04T06:30:00Z',60,'readings',2,NULL,'{"id": 2, "run_id": 1, "taken_at": "2025-03-04T06:30:00Z", "taken_offset_min": 60, "energy_kwh": 0.98, "elapsed_h": 24.0, "power_w": 84.0, "voltage_v": 229.5, "current_a": 0.4, "power_factor": 0.92, "highest_power_w": 610.0, "frequency_hz": 49.98, "state": "running", "uses": null, "room_temperature_c": 17.0, "note": "first morning"}');
INSERT INTO "journal" VALUES(14,'add reading: Larder refrigerator','2025-03-05T06:30:00Z',60,'readings',3,NULL,'{"id": 3, "run_id": 1, "taken_at": "2025-03-05T06:30:00Z", "taken_offset_min": 60, "energy_kwh": 2.01, "elapsed_h": 48.0, "power_w": 2.5, "voltage_v": null, "current_a": null, "power_factor": null, "highest_power_w": null, "frequency_hz": null, "state": "idle", "uses": null, "room_temperature_c": null, "note": ""}');
INSERT INTO "journal" VALUES(15,'reset meter: Larder refrigerator','2025-03-05T07:30:00Z',60,'runs',2,NULL,'{"id": 2, "measurement_id": 1, "number": 2, "meter_id": 1, "cause": "reset", "began_at": "2025-03-05T07:30:00Z", "began_offset_min": 60, "exact_start": 1}');
INSERT INTO "journal" VALUES(16,'reset meter: Larder refrigerator','2025-03-05T07:30:00Z',60,'readings',4,NULL,'{"id": 4, "run_id": 2, "taken_at": "2025-03-05T07:30:00Z", "taken_offset_min": 60, "energy_kwh": 0.0, "elapsed_h": 0.0, "power_w": null, "voltage_v": null, "current_a": null, "power_factor": null, "highest_power_w": null, "frequency_hz": null, "state": null, "uses": null, "room_temperature_c": null, "note": ""}');
INSERT INTO "journal" VALUES(17,'add reading: Larder refrigerator','2025-03-06T06:30:00Z',60,'readings',5,NULL,'{"id": 5, "run_id": 2, "taken_at": "2025-03-06T06:30:00Z", "taken_offset_min": 60, "energy_kwh": 0.95, "elapsed_h": 23.0, "power_w": null, "voltage_v": null, "current_a": null, "power_factor": null, "highest_power_w": null, "frequency_hz": null, "state": null, "uses": null, "room_temperature_c": null, "note": ""}');
INSERT INTO "journal" VALUES(18,'swap meter: Larder refrigerator','2025-03-06T07:00:00Z',60,'runs',3,NULL,'{"id": 3, "measurement_id": 1, "number": 3, "meter_id": 2, "cause": "swap", "began_at": "2025-03-06T07:00:00Z", "began_offset_min": 60, "exact_start": 0}');
INSERT INTO "journal" VALUES(19,'swap meter: Larder refrigerator','2025-03-06T07:00:00Z',60,'readings',6,NULL,'{"id": 6, "run_id": 3, "taken_at": "2025-03-06T07:00:00Z", "taken_offset_min": 60, "energy_kwh": 14.2, "elapsed_h": null, "power_w": null, "voltage_v": null, "current_a": null, "power_factor": null, "highest_power_w": null, "frequency_hz": null, "state": null, "uses": null, "room_temperature_c": null, "note": ""}');
INSERT INTO "journal" VALUES(20,'swap meter: Larder refrigerator','2025-03-06T07:00:00Z',60,'measurements',1,'{"id": 1, "appliance_id": 1, "meter_id": 1, "state": "running", "started_at": "2025-03-03T06:30:00Z", "started_offset_min": 60, "finished_at": null, "finished_offset_min": null, "room_temperature_c": 17.5, "note": "door shut"}','{"id": 1, "appliance_id": 1, "meter_id": 2, "state": "running", "started_at": "2025-03-03T06:30:00Z", "started_offset_min": 60, "finished_at": null, "finished_offset_min": null, "room_temperature_c": 17.5, "note": "door shut"}');
INSERT INTO "journal" VALUES(21,'add reading: Larder refrigerator','2025-03-07T06:30:00Z',60,'readings',7,NULL,'{"id": 7, "run_id": 3, "taken_at": "2025-03-07T06:30:00Z", "taken_offset_min": 60, "energy_kwh": 15.2, "elapsed_h": null, "power_w": null, "voltage_v": null, "current_a": null, "power_factor": null, "highest_power_w": null, "frequency_hz": null, "state": null, "uses": null, "room_temperature_c": null, "note": ""}');
INSERT INTO "journal" VALUES(22,'finish measurement: Larder refrigerator','2025-03-07T06:36:00Z',60,'measurements',1,'{"id": 1, "appliance_id": 1, "meter_id": 2, "state": "running", "started_at": "2025-03-03T06:30:00Z", "started_offset_min": 60, "finished_at": null, "finished_offset_min": null, "room_temperature_c": 17.5, "note": "door shut"}','{"id": 1, "appliance_id": 1, "meter_id": 2, "state": "finished", "started_at": "2025-03-03T06:30:00Z", "started_offset_min": 60, "finished_at": "2025-03-07T06:36:00Z", "finished_offset_min": 60, "room_temperature_c": 17.5, "note": "door shut"}');
INSERT INTO "journal" VALUES(23,'start measurement: Router','2025-03-08T06:30:00Z',60,'measurements',2,NULL,'{"id": 2, "appliance_id": 2, "meter_id": 2, "state": "running", "started_at": "2025-03-08T06:30:00Z", "started_offset_min": 120, "finished_at": null, "finished_offset_min": null, "room_temperature_c": null, "note": ""}');
INSERT INTO "journal" VALUES(24,'start measurement: Router','2025-03-08T06:30:00Z',60,'runs',4,NULL,'{"id": 4, "measurement_id": 2, "number": 1, "meter_id": 2, "cause": "start", "began_at": "2025-03-08T06:30:00Z", "began_offset_min": 120, "exact_start": 0}');
INSERT INTO "journal" VALUES(25,'start measurement: Router','2025-03-08T06:30:00Z',60,'readings',8,NULL,'{"id": 8, "run_id": 4, "taken_at": "2025-03-08T06:30:00Z", "taken_offset_min": 120, "energy_kwh": 15.2, "elapsed_h": null, "power_w": null, "voltage_v": null, "current_a": null, "power_factor": null, "highest_power_w": null, "frequency_hz": null, "state": null, "uses": 0, "room_temperature_c": null, "note": ""}');
INSERT INTO "journal" VALUES(26,'add reading: Router','2025-03-09T06:30:00Z',60,'readings',9,NULL,'{"id": 9, "run_id": 4, "taken_at": "2025-03-09T06:30:00Z", "taken_offset_min": 60, "energy_kwh": 15.5, "elapsed_h": null, "power_w": null, "voltage_v": null, "current_a": null, "power_factor": null, "highest_power_w": null, "frequency_hz": null, "state": null, "uses": 3, "room_temperature_c": null, "note": ""}');
INSERT INTO "journal" VALUES(27,'start measurement: Lamp','2025-03-09T06:30:00Z',60,'measurements',3,NULL,'{"id": 3, "appliance_id": 5, "meter_id": 1, "state": "running", "started_at": "2025-03-09T06:30:00Z", "started_offset_min": 60, "finished_at": null, "finished_offset_min": null, "room_temperature_c": null, "note": ""}');
INSERT INTO "journal" VALUES(28,'start measurement: Lamp','2025-03-09T06:30:00Z',60,'runs',5,NULL,'{"id": 5, "measurement_id": 3, "number": 1, "meter_id": 1, "cause": "start", "began_at": "2025-03-09T06:30:00Z", "began_offset_min": 60, "exact_start": 0}');
INSERT INTO "journal" VALUES(29,'start measurement: Lamp','2025-03-09T06:30:00Z',60,'readings',10,NULL,'{"id": 10, "run_id": 5, "taken_at": "2025-03-09T06:30:00Z", "taken_offset_min": 60, "energy_kwh": 0.95, "elapsed_h": 23.0, "power_w": null, "voltage_v": null, "current_a": null, "power_factor": null, "highest_power_w": null, "frequency_hz": null, "state": null, "uses": null, "room_temperature_c": null, "note": ""}');
INSERT INTO "journal" VALUES(30,'set aside measurement: Lamp','2025-03-09T06:30:00Z',60,'measurements',3,'{"id": 3, "appliance_id": 5, "meter_id": 1, "state": "running", "started_at": "2025-03-09T06:30:00Z", "started_offset_min": 60, "finished_at": null, "finished_offset_min": null, "room_temperature_c": null, "note": ""}','{"id": 3, "appliance_id": 5, "meter_id": 1, "state": "set_aside", "started_at": "2025-03-09T06:30:00Z", "started_offset_min": 60, "finished_at": null, "finished_offset_min": null, "room_temperature_c": null, "note": ""}');
INSERT INTO "journal" VALUES(31,'plan measurement: Breathing aid','2025-03-09T06:30:00Z',60,'measurements',4,NULL,'{"id": 4, "appliance_id": 4, "meter_id": 1, "state": "planned", "started_at": null, "started_offset_min": null, "finished_at": null, "finished_offset_min": null, "room_temperature_c": null, "note": ""}');
INSERT INTO "journal" VALUES(32,'add reading: Router','2025-03-10T06:30:00Z',60,'readings',11,NULL,'{"id": 11, "run_id": 4, "taken_at": "2025-03-10T06:30:00Z", "taken_offset_min": 60, "energy_kwh": 51.8, "elapsed_h": null, "power_w": null, "voltage_v": null, "current_a": null, "power_factor": null, "highest_power_w": null, "frequency_hz": null, "state": null, "uses": null, "room_temperature_c": null, "note": ""}');
INSERT INTO "journal" VALUES(33,'undo: add reading: Router','2025-03-10T06:30:00Z',60,'readings',11,'{"id": 11, "run_id": 4, "taken_at": "2025-03-10T06:30:00Z", "taken_offset_min": 60, "energy_kwh": 51.8, "elapsed_h": null, "power_w": null, "voltage_v": null, "current_a": null, "power_factor": null, "highest_power_w": null, "frequency_hz": null, "state": null, "uses": null, "room_temperature_c": null, "note": ""}',NULL);
INSERT INTO "journal" VALUES(34,'add reading: Router','2025-03-10T06:30:00Z',60,'readings',12,NULL,'{"id": 12, "run_id": 4, "taken_at": "2025-03-10T06:30:00Z", "taken_offset_min": 60, "energy_kwh": 15.81, "elapsed_h": null, "power_w": null, "voltage_v": null, "current_a": null, "power_factor": null, "highest_power_w": null, "frequency_hz": null, "state": null, "uses": null, "room_temperature_c": null, "note": ""}');
INSERT INTO "journal" VALUES(35,'add reading: Router','2025-03-11T06:30:00Z',60,'readings',13,NULL,'{"id": 13, "run_id": 4, "taken_at": "2025-03-11T06:30:00Z", "taken_offset_min": 60, "energy_kwh": 16.1, "elapsed_h": null, "power_w": null, "voltage_v": null, "current_a": null, "power_factor": null, "highest_power_w": null, "frequency_hz": null, "state": null, "uses": null, "room_temperature_c": null, "note": ""}');
INSERT INTO "journal" VALUES(36,'remove reading: Router','2025-03-11T06:30:00Z',60,'readings',13,'{"id": 13, "run_id": 4, "taken_at": "2025-03-11T06:30:00Z", "taken_offset_min": 60, "energy_kwh": 16.1, "elapsed_h": null, "power_w": null, "voltage_v": null, "current_a": null, "power_factor": null, "highest_power_w": null, "frequency_hz": null, "state": null, "uses": null, "room_temperature_c": null, "note": ""}',NULL);
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
    note TEXT NOT NULL,
    CHECK ((started_at IS NULL) = (started_offset_min IS NULL)),
    CHECK ((finished_at IS NULL) = (finished_offset_min IS NULL)),
    CHECK ((state = 'planned') = (started_at IS NULL)),
    CHECK (state = 'planned' OR meter_id IS NOT NULL),
    CHECK (state <> 'finished' OR finished_at IS NOT NULL),
    CHECK (state NOT IN ('planned', 'running') OR finished_at IS NULL)
) STRICT
;
INSERT INTO "measurements" VALUES(1,1,2,'finished','2025-03-03T06:30:00Z',60,'2025-03-07T06:36:00Z',60,17.5,'door shut');
INSERT INTO "measurements" VALUES(2,2,2,'running','2025-03-08T06:30:00Z',120,NULL,NULL,NULL,'');
INSERT INTO "measurements" VALUES(3,5,1,'set_aside','2025-03-09T06:30:00Z',60,NULL,NULL,NULL,'');
INSERT INTO "measurements" VALUES(4,4,1,'planned',NULL,NULL,NULL,NULL,NULL,'');
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
INSERT INTO "meters" VALUES(1,'Grey meter','cee_7',230.0,16.0,0.01,1.66666666666666664353e-02,1.0,'keeps','truncates','borrowed');
INSERT INTO "meters" VALUES(2,'Blue meter','unknown',NULL,NULL,0.01,1.66666666666666664353e-02,NULL,'unknown','unknown','');
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
INSERT INTO "readings" VALUES(1,1,'2025-03-03T06:30:00Z',60,0.0,0.0,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'');
INSERT INTO "readings" VALUES(2,1,'2025-03-04T06:30:00Z',60,0.98,24.0,84.0,229.5,0.4,0.92,610.0,49.98,'running',NULL,17.0,'first morning');
INSERT INTO "readings" VALUES(3,1,'2025-03-05T06:30:00Z',60,2.01,48.0,2.5,NULL,NULL,NULL,NULL,NULL,'idle',NULL,NULL,'');
INSERT INTO "readings" VALUES(4,2,'2025-03-05T07:30:00Z',60,0.0,0.0,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'');
INSERT INTO "readings" VALUES(5,2,'2025-03-06T06:30:00Z',60,0.95,23.0,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'');
INSERT INTO "readings" VALUES(6,3,'2025-03-06T07:00:00Z',60,14.2,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'');
INSERT INTO "readings" VALUES(7,3,'2025-03-07T06:30:00Z',60,15.2,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'');
INSERT INTO "readings" VALUES(8,4,'2025-03-08T06:30:00Z',120,15.2,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,0,NULL,'');
INSERT INTO "readings" VALUES(9,4,'2025-03-09T06:30:00Z',60,15.5,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,3,NULL,'');
INSERT INTO "readings" VALUES(10,5,'2025-03-09T06:30:00Z',60,0.95,23.0,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'');
INSERT INTO "readings" VALUES(12,4,'2025-03-10T06:30:00Z',60,15.81,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'');
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
INSERT INTO "runs" VALUES(1,1,1,1,'start','2025-03-03T06:30:00Z',60,1);
INSERT INTO "runs" VALUES(2,1,2,1,'reset','2025-03-05T07:30:00Z',60,1);
INSERT INTO "runs" VALUES(3,1,3,2,'swap','2025-03-06T07:00:00Z',60,0);
INSERT INTO "runs" VALUES(4,2,1,2,'start','2025-03-08T06:30:00Z',120,0);
INSERT INTO "runs" VALUES(5,3,1,1,'start','2025-03-09T06:30:00Z',60,0);
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
DELETE FROM "sqlite_sequence";
INSERT INTO "sqlite_sequence" VALUES('journal',36);
INSERT INTO "sqlite_sequence" VALUES('appliances',5);
INSERT INTO "sqlite_sequence" VALUES('meters',2);
INSERT INTO "sqlite_sequence" VALUES('measurements',4);
INSERT INTO "sqlite_sequence" VALUES('runs',5);
INSERT INTO "sqlite_sequence" VALUES('readings',13);
COMMIT;
