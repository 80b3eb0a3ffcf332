PRAGMA application_id = 1382641255;
PRAGMA user_version = 1;
BEGIN TRANSACTION;
CREATE TABLE design (
        sha256 TEXT PRIMARY KEY CHECK (length(sha256) = 64),
        text TEXT NOT NULL
    ) STRICT, WITHOUT ROWID;
INSERT INTO "design" VALUES('981bd7397cb79ccae039eebdee271479423d5e127d5a8f9deaa727ca481f34b2','format = 1
name = "Terrace octagon"
# 1
');
INSERT INTO "design" VALUES('f4fb765c967b438bb1691fe700804bf616163ac41995e55e43615d512d7b00e5','format = 1
name = "Terrace octagon"
# 0
');
CREATE TABLE note (
        id INTEGER PRIMARY KEY,
        at TEXT NOT NULL CHECK (at GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]T[0-9][0-9]:[0-9][0-9]:[0-9][0-9]Z'),
        kind TEXT NOT NULL,
        text TEXT NOT NULL CHECK (text <> ''),
        UNIQUE (at, kind, text)
    ) STRICT;
INSERT INTO "note" VALUES(1,'2026-05-01T12:00:00Z','other','a joint soldered anew');
CREATE TABLE result (
        id INTEGER PRIMARY KEY,
        sweep INTEGER NOT NULL REFERENCES sweep (id),
        design TEXT NOT NULL REFERENCES design (sha256),
        schema TEXT NOT NULL,
        document TEXT NOT NULL,
        UNIQUE (sweep, design)
    ) STRICT;
INSERT INTO "result" VALUES(1,1,'f4fb765c967b438bb1691fe700804bf616163ac41995e55e43615d512d7b00e5','ringwright.proof/1','{"frequency_hz":7100000.0,"frequency_hz_low":7099970.0,"frequency_hz_high":7100030.0,"q_unloaded":500.0,"q_unloaded_low":490.09933665337763,"q_unloaded_high":510.1006700133779,"q_loaded":250.0,"q_loaded_low":245.04966832668882,"q_loaded_high":255.05033500668895,"coupling":1.1,"coupling_low":1.078218540637431,"coupling_high":1.1222214740294314,"swr_min":null,"swr_min_low":null,"swr_min_high":null,"bandwidth_half_power_hz":14200.0,"bandwidth_half_power_hz_low":13918.821160955924,"bandwidth_half_power_hz_high":14486.859028379931,"resistance_total_ohm":0.1,"resistance_total_ohm_low":0.09801986733067553,"resistance_total_ohm_high":0.10202013400267558,"efficiency_pct":20.0,"efficiency_pct_low":16.374615061559638,"efficiency_pct_high":24.428055163203396,"flags":[{"code":"few_points","text":"4 points lie in the dip"}]}');
INSERT INTO "result" VALUES(2,2,'f4fb765c967b438bb1691fe700804bf616163ac41995e55e43615d512d7b00e5','ringwright.proof/1','{"frequency_hz":7100000.0,"frequency_hz_low":7099970.0,"frequency_hz_high":7100030.0,"q_unloaded":501.0,"q_unloaded_low":491.0795353266844,"q_unloaded_high":511.12087135340465,"q_loaded":250.5,"q_loaded_low":245.5397676633422,"q_loaded_high":255.56043567670233,"coupling":1.1,"coupling_low":1.078218540637431,"coupling_high":1.1222214740294314,"swr_min":null,"swr_min_low":null,"swr_min_high":null,"bandwidth_half_power_hz":14171.656686626746,"bandwidth_half_power_hz_low":13891.039082790343,"bandwidth_half_power_hz_high":14457.943142095739,"resistance_total_ohm":0.1,"resistance_total_ohm_low":0.09801986733067553,"resistance_total_ohm_high":0.10202013400267558,"efficiency_pct":20.0,"efficiency_pct_low":16.374615061559638,"efficiency_pct_high":24.428055163203396,"flags":[{"code":"few_points","text":"4 points lie in the dip"}]}');
INSERT INTO "result" VALUES(3,3,'981bd7397cb79ccae039eebdee271479423d5e127d5a8f9deaa727ca481f34b2','ringwright.proof/1','{"frequency_hz":7100000.0,"frequency_hz_low":7099970.0,"frequency_hz_high":7100030.0,"q_unloaded":502.0,"q_unloaded_low":492.0597339999911,"q_unloaded_high":512.1410726934314,"q_loaded":251.0,"q_loaded_low":246.02986699999556,"q_loaded_high":256.0705363467157,"coupling":1.1,"coupling_low":1.078218540637431,"coupling_high":1.1222214740294314,"swr_min":null,"swr_min_low":null,"swr_min_high":null,"bandwidth_half_power_hz":14143.426294820718,"bandwidth_half_power_hz_low":13863.367690195144,"bandwidth_half_power_hz_high":14429.14245854575,"resistance_total_ohm":0.1,"resistance_total_ohm_low":0.09801986733067553,"resistance_total_ohm_high":0.10202013400267558,"efficiency_pct":20.0,"efficiency_pct_low":16.374615061559638,"efficiency_pct_high":24.428055163203396,"flags":[{"code":"few_points","text":"4 points lie in the dip"}]}');
CREATE TABLE sweep (
        id INTEGER PRIMARY KEY,
        sha256 TEXT NOT NULL UNIQUE CHECK (length(sha256) = 64),
        file TEXT NOT NULL UNIQUE CHECK (file <> ''),
        name_given TEXT NOT NULL,
        size INTEGER NOT NULL CHECK (size >= 0),
        measured_at TEXT NOT NULL CHECK (measured_at GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]T[0-9][0-9]:[0-9][0-9]:[0-9][0-9]Z'),
        band TEXT,
        build TEXT CHECK (build <> ''),
        temperature REAL,
        note TEXT NOT NULL
    ) STRICT;
INSERT INTO "sweep" VALUES(1,'2cbdd1a47f2aded68d6e276f1de754f84d84b9f2e0812c74cbf8ba12555565c0','sweep Ω.s1p','sweep Ω.s1p',31,'2026-05-01T12:00:00Z','40m','first',NULL,'');
INSERT INTO "sweep" VALUES(2,'6f7c9b14634c40b5fa8f7b3874138959f483d8ea8eba2280e41f30e32642c57d','sweep Ω-2.s1p','sweep Ω.s1p',31,'2026-05-02T12:00:00Z','40m','first',18.5,'after the rain');
INSERT INTO "sweep" VALUES(3,'47c6c2b94648c538c8d8b857ec2d0888d36caeca083b91ec70e5ee4babfd1b06','sweep Ω-3.s1p','sweep Ω.s1p',31,'2026-05-03T12:00:00Z','40m','first',18.5,'after the rain');
CREATE INDEX sweep_by_band ON sweep (band, measured_at);
COMMIT;
