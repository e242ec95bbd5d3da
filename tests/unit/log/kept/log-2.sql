BEGIN TRANSACTION;
CREATE TABLE jobs (
	id INTEGER NOT NULL, 
	uid VARCHAR(32) NOT NULL, 
	title TEXT NOT NULL, 
	at FLOAT NOT NULL, 
	PRIMARY KEY (id), 
	UNIQUE (uid), 
	UNIQUE (title)
);
INSERT INTO "jobs" VALUES(1,'5a4e3cd5417549f89294395ed4405694','Kept',1000.0);
CREATE TABLE meta (
	"key" VARCHAR(40) NOT NULL, 
	value TEXT, 
	PRIMARY KEY ("key")
);
INSERT INTO "meta" VALUES('version','2');
CREATE TABLE movements (
	id INTEGER NOT NULL, 
	uid VARCHAR(32) NOT NULL, 
	item TEXT NOT NULL, 
	change INTEGER NOT NULL, 
	at FLOAT NOT NULL, 
	why TEXT DEFAULT '' NOT NULL, 
	PRIMARY KEY (id), 
	UNIQUE (uid)
);
CREATE TABLE offcuts (
	id INTEGER NOT NULL, 
	uid VARCHAR(32) NOT NULL, 
	code TEXT NOT NULL, 
	board TEXT NOT NULL, 
	length FLOAT NOT NULL, 
	width FLOAT NOT NULL, 
	here BOOLEAN NOT NULL, 
	at FLOAT NOT NULL, 
	job TEXT DEFAULT '' NOT NULL, 
	PRIMARY KEY (id), 
	UNIQUE (uid)
);
CREATE TABLE plans (
	id INTEGER NOT NULL, 
	uid VARCHAR(32) NOT NULL, 
	job TEXT NOT NULL, 
	version VARCHAR(40) NOT NULL, 
	at FLOAT NOT NULL, 
	PRIMARY KEY (id), 
	UNIQUE (job, version), 
	UNIQUE (uid)
);
INSERT INTO "plans" VALUES(1,'ee19f982e4644a598634739bd0030d50','Kept','b120a183',1000.0);
CREATE TABLE spans (
	id INTEGER NOT NULL, 
	uid VARCHAR(32) NOT NULL, 
	job TEXT NOT NULL, 
	version VARCHAR(40) DEFAULT '' NOT NULL, 
	act TEXT NOT NULL, 
	method TEXT DEFAULT '' NOT NULL, 
	set_up TEXT DEFAULT '' NOT NULL, 
	panel TEXT DEFAULT '' NOT NULL, 
	count FLOAT NOT NULL, 
	started FLOAT NOT NULL, 
	minutes FLOAT, 
	note TEXT DEFAULT '' NOT NULL, 
	keep BOOLEAN DEFAULT 0 NOT NULL, 
	PRIMARY KEY (id), 
	UNIQUE (uid)
);
CREATE TABLE ticks (
	id INTEGER NOT NULL, 
	uid VARCHAR(32) NOT NULL, 
	job TEXT NOT NULL, 
	version VARCHAR(40) NOT NULL, 
	thing TEXT NOT NULL, 
	copy INTEGER DEFAULT '1' NOT NULL, 
	name TEXT NOT NULL, 
	content TEXT NOT NULL, 
	done BOOLEAN NOT NULL, 
	at FLOAT NOT NULL, 
	who TEXT DEFAULT '' NOT NULL, 
	PRIMARY KEY (id), 
	UNIQUE (uid)
);
INSERT INTO "ticks" VALUES(1,'00000000000000000000000000000000','Kept','b120a183','panel A.side-left',1,'A1 left side cut','720 x 399 x 18, b18',1,1000.0,'');
INSERT INTO "ticks" VALUES(2,'00000000000000000000000000000001','Kept','b120a183','panel A.side-right',1,'A2 right side cut','720 x 399 x 18, b18',1,1000.0,'');
INSERT INTO "ticks" VALUES(3,'00000000000000000000000000000002','Kept','b120a183','panel A.top',1,'A3 top cut','564 x 399 x 18, b18',1,1000.0,'');
INSERT INTO "ticks" VALUES(4,'00000000000000000000000000000003','Kept','b120a183','panel A.base',1,'A4 base cut','564 x 399 x 18, b18',1,1000.0,'');
INSERT INTO "ticks" VALUES(5,'00000000000000000000000000000004','Kept','b120a183','panel A.plinth',1,'A5 plinth cut','564 x 80 x 18, b18',1,1000.0,'');
INSERT INTO "ticks" VALUES(6,'00000000000000000000000000000005','Kept','b120a183','panel A.back',1,'A6 back cut','581 x 621 x 6, b6',1,1000.0,'');
INSERT INTO "ticks" VALUES(7,'00000000000000000000000000000006','Kept','b120a183','panel A.shelf-1',1,'A7 shelf 1 cut','564 x 393 x 18, b18',1,1000.0,'');
INSERT INTO "ticks" VALUES(8,'00000000000000000000000000000007','Kept','b120a183','panel A.drawer-1.front',1,'A8 drawer 1 front cut','556 x 132 x 18, b18',1,1000.0,'');
INSERT INTO "ticks" VALUES(9,'00000000000000000000000000000008','Kept','b120a183','panel A.drawer-1.side-left',1,'A9 drawer 1 left side cut','350 x 115 x 12, b12',1,1000.0,'');
INSERT INTO "ticks" VALUES(10,'00000000000000000000000000000009','Kept','b120a183','panel A.drawer-1.side-right',1,'A10 drawer 1 right side cut','350 x 115 x 12, b12',1,1000.0,'');
INSERT INTO "ticks" VALUES(11,'0000000000000000000000000000000a','Kept','b120a183','panel A.drawer-1.box-front',1,'A11 drawer 1 box front cut','514.6 x 115 x 12, b12',1,1000.0,'');
INSERT INTO "ticks" VALUES(12,'0000000000000000000000000000000b','Kept','b120a183','panel A.drawer-1.box-back',1,'A12 drawer 1 back cut','514.6 x 115 x 12, b12',1,1000.0,'');
INSERT INTO "ticks" VALUES(13,'0000000000000000000000000000000c','Kept','b120a183','panel A.drawer-1.bottom',1,'A13 drawer 1 bottom cut','521.6 x 333 x 6, b6',1,1000.0,'');
INSERT INTO "ticks" VALUES(14,'0000000000000000000000000000000d','Kept','b120a183','panel A.door-1',1,'A14 door 1 cut','556 x 438 x 18, b18',1,1000.0,'');
INSERT INTO "ticks" VALUES(15,'0000000000000000000000000000000e','Kept','b120a183','panel A.loose-shelf-1',1,'A15 loose shelf 1 cut','562 x 358 x 18, b18',1,1000.0,'');
INSERT INTO "ticks" VALUES(16,'0000000000000000000000000000000f','Kept','b120a183','edge A.side-left',1,'A1 left side: face edge','face edge',1,1000.0,'');
INSERT INTO "ticks" VALUES(17,'00000000000000000000000000000010','Kept','b120a183','edge A.side-right',1,'A2 right side: face edge','face edge',1,1000.0,'');
INSERT INTO "ticks" VALUES(18,'00000000000000000000000000000011','Kept','b120a183','edge A.top',1,'A3 top: face edge','face edge',1,1000.0,'');
INSERT INTO "ticks" VALUES(19,'00000000000000000000000000000012','Kept','b120a183','edge A.base',1,'A4 base: face edge','face edge',1,1000.0,'');
INSERT INTO "ticks" VALUES(20,'00000000000000000000000000000013','Kept','b120a183','edge A.shelf-1',1,'A7 shelf 1: face edge','face edge',1,1000.0,'');
INSERT INTO "ticks" VALUES(21,'00000000000000000000000000000014','Kept','b120a183','edge A.drawer-1.front',1,'A8 drawer 1 front: face edge, far edge, datum end, far end','face edge, far edge, datum end, far end',1,1000.0,'');
INSERT INTO "ticks" VALUES(22,'00000000000000000000000000000015','Kept','b120a183','edge A.door-1',1,'A14 door 1: face edge, far edge, datum end, far end','face edge, far edge, datum end, far end',1,1000.0,'');
INSERT INTO "ticks" VALUES(23,'00000000000000000000000000000016','Kept','b120a183','edge A.loose-shelf-1',1,'A15 loose shelf 1: face edge','face edge',1,1000.0,'');
INSERT INTO "ticks" VALUES(24,'00000000000000000000000000000017','Kept','b120a183','mark A.side-left',1,'A1 left side: face side, face edge, 4 joint lines','face side, face edge, 4 joint lines',1,1000.0,'');
INSERT INTO "ticks" VALUES(25,'00000000000000000000000000000018','Kept','b120a183','mark A.side-right',1,'A2 right side: face side, face edge, 4 joint lines','face side, face edge, 4 joint lines',1,1000.0,'');
INSERT INTO "ticks" VALUES(26,'00000000000000000000000000000019','Kept','b120a183','mark A.top',1,'A3 top: face side and face edge','face side and face edge',1,1000.0,'');
INSERT INTO "ticks" VALUES(27,'0000000000000000000000000000001a','Kept','b120a183','mark A.base',1,'A4 base: face side, face edge, 1 joint line','face side, face edge, 1 joint line',1,1000.0,'');
INSERT INTO "ticks" VALUES(28,'0000000000000000000000000000001b','Kept','b120a183','mark A.plinth',1,'A5 plinth: face side and face edge','face side and face edge',1,1000.0,'');
INSERT INTO "ticks" VALUES(29,'0000000000000000000000000000001c','Kept','b120a183','mark A.back',1,'A6 back: face side, face edge, 5 joint lines','face side, face edge, 5 joint lines',1,1000.0,'');
INSERT INTO "ticks" VALUES(30,'0000000000000000000000000000001d','Kept','b120a183','mark A.shelf-1',1,'A7 shelf 1: face side and face edge','face side and face edge',1,1000.0,'');
INSERT INTO "ticks" VALUES(31,'0000000000000000000000000000001e','Kept','b120a183','mark A.drawer-1.front',1,'A8 drawer 1 front: face side and face edge','face side and face edge',1,1000.0,'');
INSERT INTO "ticks" VALUES(32,'0000000000000000000000000000001f','Kept','b120a183','mark A.drawer-1.side-left',1,'A9 drawer 1 left side: face side, face edge, 3 joint lines','face side, face edge, 3 joint lines',1,1000.0,'');
INSERT INTO "ticks" VALUES(33,'00000000000000000000000000000020','Kept','b120a183','mark A.drawer-1.side-right',1,'A10 drawer 1 right side: face side, face edge, 3 joint lines','face side, face edge, 3 joint lines',1,1000.0,'');
INSERT INTO "ticks" VALUES(34,'00000000000000000000000000000021','Kept','b120a183','mark A.drawer-1.box-front',1,'A11 drawer 1 box front: face side, face edge, 1 joint line','face side, face edge, 1 joint line',1,1000.0,'');
INSERT INTO "ticks" VALUES(35,'00000000000000000000000000000022','Kept','b120a183','mark A.drawer-1.box-back',1,'A12 drawer 1 back: face side, face edge, 1 joint line','face side, face edge, 1 joint line',1,1000.0,'');
INSERT INTO "ticks" VALUES(36,'00000000000000000000000000000023','Kept','b120a183','mark A.drawer-1.bottom',1,'A13 drawer 1 bottom: face side and face edge','face side and face edge',1,1000.0,'');
INSERT INTO "ticks" VALUES(37,'00000000000000000000000000000024','Kept','b120a183','mark A.door-1',1,'A14 door 1: face side and face edge','face side and face edge',1,1000.0,'');
INSERT INTO "ticks" VALUES(38,'00000000000000000000000000000025','Kept','b120a183','mark A.loose-shelf-1',1,'A15 loose shelf 1: face side and face edge','face side and face edge',1,1000.0,'');
INSERT INTO "ticks" VALUES(39,'00000000000000000000000000000026','Kept','b120a183','cut A.side-left.back-rebate',1,'A1 left side, mark 12 on the face side','rebate length 622, width 6, depth 9 at u 400, v 397, w 0, run u',1,1000.0,'');
INSERT INTO "ticks" VALUES(40,'00000000000000000000000000000027','Kept','b120a183','cut A.side-right.back-rebate',1,'A2 right side, mark 12 on the face side','rebate length 622, width 6, depth 9 at u 400, v 397, w 0, run u',1,1000.0,'');
INSERT INTO "ticks" VALUES(41,'00000000000000000000000000000028','Kept','b120a183','cut A.top.back-rebate',1,'A3 top, mark 5 on the far face','rebate length 564, width 6, depth 9 at u 282, v 397, w 18, run u',1,1000.0,'');
INSERT INTO "ticks" VALUES(42,'00000000000000000000000000000029','Kept','b120a183','cut A.base.back-rebate',1,'A4 base, mark 1 on the face side','rebate length 564, width 6, depth 9 at u 282, v 397, w 0, run u',1,1000.0,'');
INSERT INTO "ticks" VALUES(43,'0000000000000000000000000000002a','Kept','b120a183','cut A.drawer-1.side-left.bottom-groove',1,'A9 drawer 1 left side, mark 5 on the face side','groove length 350, width 6.2, depth 4 at u 175, v 13.1, w 0, run u',1,1000.0,'');
INSERT INTO "ticks" VALUES(44,'0000000000000000000000000000002b','Kept','b120a183','cut A.drawer-1.side-right.bottom-groove',1,'A10 drawer 1 right side, mark 5 on the face side','groove length 350, width 6.2, depth 4 at u 175, v 13.1, w 0, run u',1,1000.0,'');
INSERT INTO "ticks" VALUES(45,'0000000000000000000000000000002c','Kept','b120a183','cut A.drawer-1.box-front.bottom-groove',1,'A11 drawer 1 box front, mark 1 on the far face','groove length 514.6, width 6.2, depth 4 at u 257.3, v 13.1, w 12, run u',1,1000.0,'');
INSERT INTO "ticks" VALUES(46,'0000000000000000000000000000002d','Kept','b120a183','cut A.drawer-1.box-back.bottom-groove',1,'A12 drawer 1 back, mark 1 on the face side','groove length 514.6, width 6.2, depth 4 at u 257.3, v 13.1, w 0, run u',1,1000.0,'');
INSERT INTO "ticks" VALUES(47,'0000000000000000000000000000002e','Kept','b120a183','cut A.side-left.drawer-1-runner-1',1,'A1 left side, mark 37 on the face side','hole diameter 2.5, depth 10, point 0 at u 600, v 57, w 0',1,1000.0,'');
INSERT INTO "ticks" VALUES(48,'0000000000000000000000000000002f','Kept','b120a183','cut A.side-left.drawer-1-runner-2',1,'A1 left side, mark 38 on the face side','hole diameter 2.5, depth 10, point 0 at u 600, v 185, w 0',1,1000.0,'');
INSERT INTO "ticks" VALUES(49,'00000000000000000000000000000030','Kept','b120a183','cut A.side-left.drawer-1-runner-3',1,'A1 left side, mark 39 on the face side','hole diameter 2.5, depth 10, point 0 at u 600, v 281, w 0',1,1000.0,'');
INSERT INTO "ticks" VALUES(50,'00000000000000000000000000000031','Kept','b120a183','cut A.side-right.drawer-1-runner-1',1,'A2 right side, mark 33 on the face side','hole diameter 2.5, depth 10, point 0 at u 600, v 57, w 0',1,1000.0,'');
INSERT INTO "ticks" VALUES(51,'00000000000000000000000000000032','Kept','b120a183','cut A.side-right.drawer-1-runner-2',1,'A2 right side, mark 34 on the face side','hole diameter 2.5, depth 10, point 0 at u 600, v 185, w 0',1,1000.0,'');
INSERT INTO "ticks" VALUES(52,'00000000000000000000000000000033','Kept','b120a183','cut A.side-right.drawer-1-runner-3',1,'A2 right side, mark 35 on the face side','hole diameter 2.5, depth 10, point 0 at u 600, v 281, w 0',1,1000.0,'');
INSERT INTO "ticks" VALUES(53,'00000000000000000000000000000034','Kept','b120a183','cut A.door-1.cup-1-screw-1',1,'A14 door 1, mark 3 on the far face','hole diameter 2.5, depth 10, point 0 at u 30.5, v 77, w 18',1,1000.0,'');
INSERT INTO "ticks" VALUES(54,'00000000000000000000000000000035','Kept','b120a183','cut A.door-1.cup-1-screw-2',1,'A14 door 1, mark 4 on the far face','hole diameter 2.5, depth 10, point 0 at u 30.5, v 123, w 18',1,1000.0,'');
INSERT INTO "ticks" VALUES(55,'00000000000000000000000000000036','Kept','b120a183','cut A.door-1.cup-2-screw-1',1,'A14 door 1, mark 5 on the far face','hole diameter 2.5, depth 10, point 0 at u 30.5, v 317, w 18',1,1000.0,'');
INSERT INTO "ticks" VALUES(56,'00000000000000000000000000000037','Kept','b120a183','cut A.door-1.cup-2-screw-2',1,'A14 door 1, mark 6 on the far face','hole diameter 2.5, depth 10, point 0 at u 30.5, v 363, w 18',1,1000.0,'');
INSERT INTO "ticks" VALUES(57,'00000000000000000000000000000038','Kept','b120a183','cut A.drawer-1.side-left.runner-1',1,'A9 drawer 1 left side, mark 6 on the far face','hole diameter 2.5, depth 9, point 0 at u 35, v 23, w 12',1,1000.0,'');
INSERT INTO "ticks" VALUES(58,'00000000000000000000000000000039','Kept','b120a183','cut A.drawer-1.side-left.runner-2',1,'A9 drawer 1 left side, mark 7 on the far face','hole diameter 2.5, depth 9, point 0 at u 163, v 23, w 12',1,1000.0,'');
INSERT INTO "ticks" VALUES(59,'0000000000000000000000000000003a','Kept','b120a183','cut A.drawer-1.side-left.runner-3',1,'A9 drawer 1 left side, mark 8 on the far face','hole diameter 2.5, depth 9, point 0 at u 259, v 23, w 12',1,1000.0,'');
INSERT INTO "ticks" VALUES(60,'0000000000000000000000000000003b','Kept','b120a183','cut A.drawer-1.side-right.runner-1',1,'A10 drawer 1 right side, mark 6 on the far face','hole diameter 2.5, depth 9, point 0 at u 35, v 23, w 12',1,1000.0,'');
INSERT INTO "ticks" VALUES(61,'0000000000000000000000000000003c','Kept','b120a183','cut A.drawer-1.side-right.runner-2',1,'A10 drawer 1 right side, mark 7 on the far face','hole diameter 2.5, depth 9, point 0 at u 163, v 23, w 12',1,1000.0,'');
INSERT INTO "ticks" VALUES(62,'0000000000000000000000000000003d','Kept','b120a183','cut A.drawer-1.side-right.runner-3',1,'A10 drawer 1 right side, mark 8 on the far face','hole diameter 2.5, depth 9, point 0 at u 259, v 23, w 12',1,1000.0,'');
INSERT INTO "ticks" VALUES(63,'0000000000000000000000000000003e','Kept','b120a183','cut A.top:J1.1e3',1,'A3 top, mark 1 on the far face','hole diameter 15, depth 13.5, point 0 at u 24, v 60, w 18',1,1000.0,'');
INSERT INTO "ticks" VALUES(64,'0000000000000000000000000000003f','Kept','b120a183','cut A.top:J1.2e3',1,'A3 top, mark 2 on the far face','hole diameter 15, depth 13.5, point 0 at u 24, v 340, w 18',1,1000.0,'');
INSERT INTO "ticks" VALUES(65,'00000000000000000000000000000040','Kept','b120a183','cut A.top:J5.1e3',1,'A3 top, mark 3 on the far face','hole diameter 15, depth 13.5, point 0 at u 540, v 60, w 18',1,1000.0,'');
INSERT INTO "ticks" VALUES(66,'00000000000000000000000000000041','Kept','b120a183','cut A.top:J5.2e3',1,'A3 top, mark 4 on the far face','hole diameter 15, depth 13.5, point 0 at u 540, v 340, w 18',1,1000.0,'');
INSERT INTO "ticks" VALUES(67,'00000000000000000000000000000042','Kept','b120a183','cut A.side-left.door-1-plate-1-1',1,'A1 left side, mark 13 on the face side','hole diameter 5, depth 12, point 0 at u 185, v 55, w 0',1,1000.0,'');
INSERT INTO "ticks" VALUES(68,'00000000000000000000000000000043','Kept','b120a183','cut A.side-left.door-1-plate-1-2',1,'A1 left side, mark 14 on the face side','hole diameter 5, depth 12, point 0 at u 217, v 55, w 0',1,1000.0,'');
INSERT INTO "ticks" VALUES(69,'00000000000000000000000000000044','Kept','b120a183','cut A.side-left.door-1-plate-2-1',1,'A1 left side, mark 15 on the face side','hole diameter 5, depth 12, point 0 at u 425, v 55, w 0',1,1000.0,'');
INSERT INTO "ticks" VALUES(70,'00000000000000000000000000000045','Kept','b120a183','cut A.side-left.door-1-plate-2-2',1,'A1 left side, mark 16 on the face side','hole diameter 5, depth 12, point 0 at u 457, v 55, w 0',1,1000.0,'');
INSERT INTO "ticks" VALUES(71,'00000000000000000000000000000046','Kept','b120a183','cut A.drawer-1.box-front.front-screw-1',1,'A11 drawer 1 box front, mark 2 on the far face','hole diameter 5, depth 12, point 0 at u 40, v 31, w 12',1,1000.0,'');
INSERT INTO "ticks" VALUES(72,'00000000000000000000000000000047','Kept','b120a183','cut A.drawer-1.box-front.front-screw-2',1,'A11 drawer 1 box front, mark 4 on the far face','hole diameter 5, depth 12, point 0 at u 474.5, v 31, w 12',1,1000.0,'');
INSERT INTO "ticks" VALUES(73,'00000000000000000000000000000048','Kept','b120a183','cut A.drawer-1.box-front.front-screw-3',1,'A11 drawer 1 box front, mark 3 on the far face','hole diameter 5, depth 12, point 0 at u 40, v 95, w 12',1,1000.0,'');
INSERT INTO "ticks" VALUES(74,'00000000000000000000000000000049','Kept','b120a183','cut A.drawer-1.box-front.front-screw-4',1,'A11 drawer 1 box front, mark 5 on the far face','hole diameter 5, depth 12, point 0 at u 474.5, v 95, w 12',1,1000.0,'');
INSERT INTO "ticks" VALUES(75,'0000000000000000000000000000004a','Kept','b120a183','cut A.side-left.inside.2-pin-front-1',1,'A1 left side, mark 17 on the face side','hole diameter 5, depth 12, point 0 at u 177, v 55, w 0',1,1000.0,'');
INSERT INTO "ticks" VALUES(76,'0000000000000000000000000000004b','Kept','b120a183','cut A.side-left.inside.2-pin-front-2',1,'A1 left side, mark 18 on the face side','hole diameter 5, depth 12, point 0 at u 209, v 55, w 0',1,1000.0,'');
INSERT INTO "ticks" VALUES(77,'0000000000000000000000000000004c','Kept','b120a183','cut A.side-left.inside.2-pin-front-3',1,'A1 left side, mark 19 on the face side','hole diameter 5, depth 12, point 0 at u 241, v 55, w 0',1,1000.0,'');
INSERT INTO "ticks" VALUES(78,'0000000000000000000000000000004d','Kept','b120a183','cut A.side-left.inside.2-pin-front-4',1,'A1 left side, mark 20 on the face side','hole diameter 5, depth 12, point 0 at u 273, v 55, w 0',1,1000.0,'');
INSERT INTO "ticks" VALUES(79,'0000000000000000000000000000004e','Kept','b120a183','cut A.side-left.inside.2-pin-front-5',1,'A1 left side, mark 21 on the face side','hole diameter 5, depth 12, point 0 at u 305, v 55, w 0',1,1000.0,'');
INSERT INTO "ticks" VALUES(80,'0000000000000000000000000000004f','Kept','b120a183','cut A.side-left.inside.2-pin-front-6',1,'A1 left side, mark 22 on the face side','hole diameter 5, depth 12, point 0 at u 337, v 55, w 0',1,1000.0,'');
INSERT INTO "ticks" VALUES(81,'00000000000000000000000000000050','Kept','b120a183','cut A.side-left.inside.2-pin-front-7',1,'A1 left side, mark 23 on the face side','hole diameter 5, depth 12, point 0 at u 369, v 55, w 0',1,1000.0,'');
INSERT INTO "ticks" VALUES(82,'00000000000000000000000000000051','Kept','b120a183','cut A.side-left.inside.2-pin-front-8',1,'A1 left side, mark 24 on the face side','hole diameter 5, depth 12, point 0 at u 401, v 55, w 0',1,1000.0,'');
INSERT INTO "ticks" VALUES(83,'00000000000000000000000000000052','Kept','b120a183','cut A.side-left.inside.2-pin-front-9',1,'A1 left side, mark 25 on the face side','hole diameter 5, depth 12, point 0 at u 433, v 55, w 0',1,1000.0,'');
INSERT INTO "ticks" VALUES(84,'00000000000000000000000000000053','Kept','b120a183','cut A.side-left.inside.2-pin-front-10',1,'A1 left side, mark 26 on the face side','hole diameter 5, depth 12, point 0 at u 465, v 55, w 0',1,1000.0,'');
INSERT INTO "ticks" VALUES(85,'00000000000000000000000000000054','Kept','b120a183','cut A.side-right.inside.2-pin-front-1',1,'A2 right side, mark 13 on the face side','hole diameter 5, depth 12, point 0 at u 177, v 55, w 0',1,1000.0,'');
INSERT INTO "ticks" VALUES(86,'00000000000000000000000000000055','Kept','b120a183','cut A.side-right.inside.2-pin-front-2',1,'A2 right side, mark 14 on the face side','hole diameter 5, depth 12, point 0 at u 209, v 55, w 0',1,1000.0,'');
INSERT INTO "ticks" VALUES(87,'00000000000000000000000000000056','Kept','b120a183','cut A.side-right.inside.2-pin-front-3',1,'A2 right side, mark 15 on the face side','hole diameter 5, depth 12, point 0 at u 241, v 55, w 0',1,1000.0,'');
INSERT INTO "ticks" VALUES(88,'00000000000000000000000000000057','Kept','b120a183','cut A.side-right.inside.2-pin-front-4',1,'A2 right side, mark 16 on the face side','hole diameter 5, depth 12, point 0 at u 273, v 55, w 0',1,1000.0,'');
INSERT INTO "ticks" VALUES(89,'00000000000000000000000000000058','Kept','b120a183','cut A.side-right.inside.2-pin-front-5',1,'A2 right side, mark 17 on the face side','hole diameter 5, depth 12, point 0 at u 305, v 55, w 0',1,1000.0,'');
INSERT INTO "ticks" VALUES(90,'00000000000000000000000000000059','Kept','b120a183','cut A.side-right.inside.2-pin-front-6',1,'A2 right side, mark 18 on the face side','hole diameter 5, depth 12, point 0 at u 337, v 55, w 0',1,1000.0,'');
INSERT INTO "ticks" VALUES(91,'0000000000000000000000000000005a','Kept','b120a183','cut A.side-right.inside.2-pin-front-7',1,'A2 right side, mark 19 on the face side','hole diameter 5, depth 12, point 0 at u 369, v 55, w 0',1,1000.0,'');
INSERT INTO "ticks" VALUES(92,'0000000000000000000000000000005b','Kept','b120a183','cut A.side-right.inside.2-pin-front-8',1,'A2 right side, mark 20 on the face side','hole diameter 5, depth 12, point 0 at u 401, v 55, w 0',1,1000.0,'');
INSERT INTO "ticks" VALUES(93,'0000000000000000000000000000005c','Kept','b120a183','cut A.side-right.inside.2-pin-front-9',1,'A2 right side, mark 21 on the face side','hole diameter 5, depth 12, point 0 at u 433, v 55, w 0',1,1000.0,'');
INSERT INTO "ticks" VALUES(94,'0000000000000000000000000000005d','Kept','b120a183','cut A.side-right.inside.2-pin-front-10',1,'A2 right side, mark 22 on the face side','hole diameter 5, depth 12, point 0 at u 465, v 55, w 0',1,1000.0,'');
INSERT INTO "ticks" VALUES(95,'0000000000000000000000000000005e','Kept','b120a183','cut A.side-left.inside.2-pin-back-1',1,'A1 left side, mark 27 on the face side','hole diameter 5, depth 12, point 0 at u 177, v 357, w 0',1,1000.0,'');
INSERT INTO "ticks" VALUES(96,'0000000000000000000000000000005f','Kept','b120a183','cut A.side-left.inside.2-pin-back-2',1,'A1 left side, mark 28 on the face side','hole diameter 5, depth 12, point 0 at u 209, v 357, w 0',1,1000.0,'');
INSERT INTO "ticks" VALUES(97,'00000000000000000000000000000060','Kept','b120a183','cut A.side-left.inside.2-pin-back-3',1,'A1 left side, mark 29 on the face side','hole diameter 5, depth 12, point 0 at u 241, v 357, w 0',1,1000.0,'');
INSERT INTO "ticks" VALUES(98,'00000000000000000000000000000061','Kept','b120a183','cut A.side-left.inside.2-pin-back-4',1,'A1 left side, mark 30 on the face side','hole diameter 5, depth 12, point 0 at u 273, v 357, w 0',1,1000.0,'');
INSERT INTO "ticks" VALUES(99,'00000000000000000000000000000062','Kept','b120a183','cut A.side-left.inside.2-pin-back-5',1,'A1 left side, mark 31 on the face side','hole diameter 5, depth 12, point 0 at u 305, v 357, w 0',1,1000.0,'');
INSERT INTO "ticks" VALUES(100,'00000000000000000000000000000063','Kept','b120a183','cut A.side-left.inside.2-pin-back-6',1,'A1 left side, mark 32 on the face side','hole diameter 5, depth 12, point 0 at u 337, v 357, w 0',1,1000.0,'');
INSERT INTO "ticks" VALUES(101,'00000000000000000000000000000064','Kept','b120a183','cut A.side-left.inside.2-pin-back-7',1,'A1 left side, mark 33 on the face side','hole diameter 5, depth 12, point 0 at u 369, v 357, w 0',1,1000.0,'');
INSERT INTO "ticks" VALUES(102,'00000000000000000000000000000065','Kept','b120a183','cut A.side-left.inside.2-pin-back-8',1,'A1 left side, mark 34 on the face side','hole diameter 5, depth 12, point 0 at u 401, v 357, w 0',1,1000.0,'');
INSERT INTO "ticks" VALUES(103,'00000000000000000000000000000066','Kept','b120a183','cut A.side-left.inside.2-pin-back-9',1,'A1 left side, mark 35 on the face side','hole diameter 5, depth 12, point 0 at u 433, v 357, w 0',1,1000.0,'');
INSERT INTO "ticks" VALUES(104,'00000000000000000000000000000067','Kept','b120a183','cut A.side-left.inside.2-pin-back-10',1,'A1 left side, mark 36 on the face side','hole diameter 5, depth 12, point 0 at u 465, v 357, w 0',1,1000.0,'');
INSERT INTO "ticks" VALUES(105,'00000000000000000000000000000068','Kept','b120a183','cut A.side-right.inside.2-pin-back-1',1,'A2 right side, mark 23 on the face side','hole diameter 5, depth 12, point 0 at u 177, v 357, w 0',1,1000.0,'');
INSERT INTO "ticks" VALUES(106,'00000000000000000000000000000069','Kept','b120a183','cut A.side-right.inside.2-pin-back-2',1,'A2 right side, mark 24 on the face side','hole diameter 5, depth 12, point 0 at u 209, v 357, w 0',1,1000.0,'');
INSERT INTO "ticks" VALUES(107,'0000000000000000000000000000006a','Kept','b120a183','cut A.side-right.inside.2-pin-back-3',1,'A2 right side, mark 25 on the face side','hole diameter 5, depth 12, point 0 at u 241, v 357, w 0',1,1000.0,'');
INSERT INTO "ticks" VALUES(108,'0000000000000000000000000000006b','Kept','b120a183','cut A.side-right.inside.2-pin-back-4',1,'A2 right side, mark 26 on the face side','hole diameter 5, depth 12, point 0 at u 273, v 357, w 0',1,1000.0,'');
INSERT INTO "ticks" VALUES(109,'0000000000000000000000000000006c','Kept','b120a183','cut A.side-right.inside.2-pin-back-5',1,'A2 right side, mark 27 on the face side','hole diameter 5, depth 12, point 0 at u 305, v 357, w 0',1,1000.0,'');
INSERT INTO "ticks" VALUES(110,'0000000000000000000000000000006d','Kept','b120a183','cut A.side-right.inside.2-pin-back-6',1,'A2 right side, mark 28 on the face side','hole diameter 5, depth 12, point 0 at u 337, v 357, w 0',1,1000.0,'');
INSERT INTO "ticks" VALUES(111,'0000000000000000000000000000006e','Kept','b120a183','cut A.side-right.inside.2-pin-back-7',1,'A2 right side, mark 29 on the face side','hole diameter 5, depth 12, point 0 at u 369, v 357, w 0',1,1000.0,'');
INSERT INTO "ticks" VALUES(112,'0000000000000000000000000000006f','Kept','b120a183','cut A.side-right.inside.2-pin-back-8',1,'A2 right side, mark 30 on the face side','hole diameter 5, depth 12, point 0 at u 401, v 357, w 0',1,1000.0,'');
INSERT INTO "ticks" VALUES(113,'00000000000000000000000000000070','Kept','b120a183','cut A.side-right.inside.2-pin-back-9',1,'A2 right side, mark 31 on the face side','hole diameter 5, depth 12, point 0 at u 433, v 357, w 0',1,1000.0,'');
INSERT INTO "ticks" VALUES(114,'00000000000000000000000000000071','Kept','b120a183','cut A.side-right.inside.2-pin-back-10',1,'A2 right side, mark 32 on the face side','hole diameter 5, depth 12, point 0 at u 465, v 357, w 0',1,1000.0,'');
INSERT INTO "ticks" VALUES(115,'00000000000000000000000000000072','Kept','b120a183','cut A.side-left:J3.1r',1,'A1 left side, mark 1 on the face side','hole diameter 8, depth 13, point 0 at u 40, v 49, w 0',1,1000.0,'');
INSERT INTO "ticks" VALUES(116,'00000000000000000000000000000073','Kept','b120a183','cut A.side-left:J2.1r',1,'A1 left side, mark 2 on the face side','hole diameter 8, depth 13, point 0 at u 89, v 50, w 0',1,1000.0,'');
INSERT INTO "ticks" VALUES(117,'00000000000000000000000000000074','Kept','b120a183','cut A.side-left:J2.2r',1,'A1 left side, mark 3 on the face side','hole diameter 8, depth 13, point 0 at u 89, v 210, w 0',1,1000.0,'');
INSERT INTO "ticks" VALUES(118,'00000000000000000000000000000075','Kept','b120a183','cut A.side-left:J2.3r',1,'A1 left side, mark 4 on the face side','hole diameter 8, depth 13, point 0 at u 89, v 370, w 0',1,1000.0,'');
INSERT INTO "ticks" VALUES(119,'00000000000000000000000000000076','Kept','b120a183','cut A.side-left:J4.1r',1,'A1 left side, mark 5 on the face side','hole diameter 8, depth 13, point 0 at u 553, v 50, w 0',1,1000.0,'');
INSERT INTO "ticks" VALUES(120,'00000000000000000000000000000077','Kept','b120a183','cut A.side-left:J4.2r',1,'A1 left side, mark 6 on the face side','hole diameter 8, depth 13, point 0 at u 553, v 210, w 0',1,1000.0,'');
INSERT INTO "ticks" VALUES(121,'00000000000000000000000000000078','Kept','b120a183','cut A.side-left:J4.3r',1,'A1 left side, mark 7 on the face side','hole diameter 8, depth 13, point 0 at u 553, v 344, w 0',1,1000.0,'');
INSERT INTO "ticks" VALUES(122,'00000000000000000000000000000079','Kept','b120a183','cut A.side-right:J7.1r',1,'A2 right side, mark 1 on the face side','hole diameter 8, depth 13, point 0 at u 40, v 49, w 0',1,1000.0,'');
INSERT INTO "ticks" VALUES(123,'0000000000000000000000000000007a','Kept','b120a183','cut A.side-right:J6.1r',1,'A2 right side, mark 2 on the face side','hole diameter 8, depth 13, point 0 at u 89, v 50, w 0',1,1000.0,'');
INSERT INTO "ticks" VALUES(124,'0000000000000000000000000000007b','Kept','b120a183','cut A.side-right:J6.2r',1,'A2 right side, mark 3 on the face side','hole diameter 8, depth 13, point 0 at u 89, v 210, w 0',1,1000.0,'');
INSERT INTO "ticks" VALUES(125,'0000000000000000000000000000007c','Kept','b120a183','cut A.side-right:J6.3r',1,'A2 right side, mark 4 on the face side','hole diameter 8, depth 13, point 0 at u 89, v 370, w 0',1,1000.0,'');
INSERT INTO "ticks" VALUES(126,'0000000000000000000000000000007d','Kept','b120a183','cut A.side-right:J8.1r',1,'A2 right side, mark 5 on the face side','hole diameter 8, depth 13, point 0 at u 553, v 50, w 0',1,1000.0,'');
INSERT INTO "ticks" VALUES(127,'0000000000000000000000000000007e','Kept','b120a183','cut A.side-right:J8.2r',1,'A2 right side, mark 6 on the face side','hole diameter 8, depth 13, point 0 at u 553, v 210, w 0',1,1000.0,'');
INSERT INTO "ticks" VALUES(128,'0000000000000000000000000000007f','Kept','b120a183','cut A.side-right:J8.3r',1,'A2 right side, mark 7 on the face side','hole diameter 8, depth 13, point 0 at u 553, v 344, w 0',1,1000.0,'');
INSERT INTO "ticks" VALUES(129,'00000000000000000000000000000080','Kept','b120a183','cut A.base:J9.1r',1,'A4 base, mark 2 on the far face','hole diameter 8, depth 13, point 0 at u 50, v 49, w 18',1,1000.0,'');
INSERT INTO "ticks" VALUES(130,'00000000000000000000000000000081','Kept','b120a183','cut A.base:J9.2r',1,'A4 base, mark 3 on the far face','hole diameter 8, depth 13, point 0 at u 210, v 49, w 18',1,1000.0,'');
INSERT INTO "ticks" VALUES(131,'00000000000000000000000000000082','Kept','b120a183','cut A.base:J9.3r',1,'A4 base, mark 4 on the far face','hole diameter 8, depth 13, point 0 at u 370, v 49, w 18',1,1000.0,'');
INSERT INTO "ticks" VALUES(132,'00000000000000000000000000000083','Kept','b120a183','cut A.base:J9.4r',1,'A4 base, mark 5 on the far face','hole diameter 8, depth 13, point 0 at u 530, v 49, w 18',1,1000.0,'');
INSERT INTO "ticks" VALUES(133,'00000000000000000000000000000084','Kept','b120a183','cut A.side-left:J1.1r2',1,'A1 left side, mark 9 on the face side','hole diameter 8, depth 13, point 0 at u 711, v 92, w 0',1,1000.0,'');
INSERT INTO "ticks" VALUES(134,'00000000000000000000000000000085','Kept','b120a183','cut A.side-left:J1.2r2',1,'A1 left side, mark 11 on the face side','hole diameter 8, depth 13, point 0 at u 711, v 372, w 0',1,1000.0,'');
INSERT INTO "ticks" VALUES(135,'00000000000000000000000000000086','Kept','b120a183','cut A.side-right:J5.1r2',1,'A2 right side, mark 9 on the face side','hole diameter 8, depth 13, point 0 at u 711, v 92, w 0',1,1000.0,'');
INSERT INTO "ticks" VALUES(136,'00000000000000000000000000000087','Kept','b120a183','cut A.side-right:J5.2r2',1,'A2 right side, mark 11 on the face side','hole diameter 8, depth 13, point 0 at u 711, v 372, w 0',1,1000.0,'');
INSERT INTO "ticks" VALUES(137,'00000000000000000000000000000088','Kept','b120a183','cut A.top:J1.1e',1,'A3 top, mark 6 on the datum end','hole diameter 8, depth 24, point 0 at u 0, v 60, w 9',1,1000.0,'');
INSERT INTO "ticks" VALUES(138,'00000000000000000000000000000089','Kept','b120a183','cut A.top:J1.1e2',1,'A3 top, mark 7 on the datum end','hole diameter 8, depth 24, point 0 at u 0, v 92, w 9',1,1000.0,'');
INSERT INTO "ticks" VALUES(139,'0000000000000000000000000000008a','Kept','b120a183','cut A.top:J1.2e',1,'A3 top, mark 8 on the datum end','hole diameter 8, depth 24, point 0 at u 0, v 340, w 9',1,1000.0,'');
INSERT INTO "ticks" VALUES(140,'0000000000000000000000000000008b','Kept','b120a183','cut A.top:J1.2e2',1,'A3 top, mark 9 on the datum end','hole diameter 8, depth 24, point 0 at u 0, v 372, w 9',1,1000.0,'');
INSERT INTO "ticks" VALUES(141,'0000000000000000000000000000008c','Kept','b120a183','cut A.top:J5.1e',1,'A3 top, mark 10 on the far end','hole diameter 8, depth 24, point 0 at u 564, v 60, w 9',1,1000.0,'');
INSERT INTO "ticks" VALUES(142,'0000000000000000000000000000008d','Kept','b120a183','cut A.top:J5.1e2',1,'A3 top, mark 11 on the far end','hole diameter 8, depth 24, point 0 at u 564, v 92, w 9',1,1000.0,'');
INSERT INTO "ticks" VALUES(143,'0000000000000000000000000000008e','Kept','b120a183','cut A.top:J5.2e',1,'A3 top, mark 12 on the far end','hole diameter 8, depth 24, point 0 at u 564, v 340, w 9',1,1000.0,'');
INSERT INTO "ticks" VALUES(144,'0000000000000000000000000000008f','Kept','b120a183','cut A.top:J5.2e2',1,'A3 top, mark 13 on the far end','hole diameter 8, depth 24, point 0 at u 564, v 372, w 9',1,1000.0,'');
INSERT INTO "ticks" VALUES(145,'00000000000000000000000000000090','Kept','b120a183','cut A.base:J2.1e',1,'A4 base, mark 6 on the datum end','hole diameter 8, depth 24, point 0 at u 0, v 50, w 9',1,1000.0,'');
INSERT INTO "ticks" VALUES(146,'00000000000000000000000000000091','Kept','b120a183','cut A.base:J2.2e',1,'A4 base, mark 7 on the datum end','hole diameter 8, depth 24, point 0 at u 0, v 210, w 9',1,1000.0,'');
INSERT INTO "ticks" VALUES(147,'00000000000000000000000000000092','Kept','b120a183','cut A.base:J2.3e',1,'A4 base, mark 8 on the datum end','hole diameter 8, depth 24, point 0 at u 0, v 370, w 9',1,1000.0,'');
INSERT INTO "ticks" VALUES(148,'00000000000000000000000000000093','Kept','b120a183','cut A.base:J6.1e',1,'A4 base, mark 9 on the far end','hole diameter 8, depth 24, point 0 at u 564, v 50, w 9',1,1000.0,'');
INSERT INTO "ticks" VALUES(149,'00000000000000000000000000000094','Kept','b120a183','cut A.base:J6.2e',1,'A4 base, mark 10 on the far end','hole diameter 8, depth 24, point 0 at u 564, v 210, w 9',1,1000.0,'');
INSERT INTO "ticks" VALUES(150,'00000000000000000000000000000095','Kept','b120a183','cut A.base:J6.3e',1,'A4 base, mark 11 on the far end','hole diameter 8, depth 24, point 0 at u 564, v 370, w 9',1,1000.0,'');
INSERT INTO "ticks" VALUES(151,'00000000000000000000000000000096','Kept','b120a183','cut A.plinth:J9.1e',1,'A5 plinth, mark 1 on the far edge','hole diameter 8, depth 24, point 0 at u 50, v 80, w 9',1,1000.0,'');
INSERT INTO "ticks" VALUES(152,'00000000000000000000000000000097','Kept','b120a183','cut A.plinth:J9.2e',1,'A5 plinth, mark 2 on the far edge','hole diameter 8, depth 24, point 0 at u 210, v 80, w 9',1,1000.0,'');
INSERT INTO "ticks" VALUES(153,'00000000000000000000000000000098','Kept','b120a183','cut A.plinth:J9.3e',1,'A5 plinth, mark 3 on the far edge','hole diameter 8, depth 24, point 0 at u 370, v 80, w 9',1,1000.0,'');
INSERT INTO "ticks" VALUES(154,'00000000000000000000000000000099','Kept','b120a183','cut A.plinth:J9.4e',1,'A5 plinth, mark 4 on the far edge','hole diameter 8, depth 24, point 0 at u 530, v 80, w 9',1,1000.0,'');
INSERT INTO "ticks" VALUES(155,'0000000000000000000000000000009a','Kept','b120a183','cut A.plinth:J3.1e',1,'A5 plinth, mark 5 on the datum end','hole diameter 8, depth 24, point 0 at u 0, v 40, w 9',1,1000.0,'');
INSERT INTO "ticks" VALUES(156,'0000000000000000000000000000009b','Kept','b120a183','cut A.plinth:J7.1e',1,'A5 plinth, mark 6 on the far end','hole diameter 8, depth 24, point 0 at u 564, v 40, w 9',1,1000.0,'');
INSERT INTO "ticks" VALUES(157,'0000000000000000000000000000009c','Kept','b120a183','cut A.shelf-1:J4.1e',1,'A7 shelf 1, mark 1 on the datum end','hole diameter 8, depth 24, point 0 at u 0, v 50, w 9',1,1000.0,'');
INSERT INTO "ticks" VALUES(158,'0000000000000000000000000000009d','Kept','b120a183','cut A.shelf-1:J4.2e',1,'A7 shelf 1, mark 2 on the datum end','hole diameter 8, depth 24, point 0 at u 0, v 210, w 9',1,1000.0,'');
INSERT INTO "ticks" VALUES(159,'0000000000000000000000000000009e','Kept','b120a183','cut A.shelf-1:J4.3e',1,'A7 shelf 1, mark 3 on the datum end','hole diameter 8, depth 24, point 0 at u 0, v 344, w 9',1,1000.0,'');
INSERT INTO "ticks" VALUES(160,'0000000000000000000000000000009f','Kept','b120a183','cut A.shelf-1:J8.1e',1,'A7 shelf 1, mark 4 on the far end','hole diameter 8, depth 24, point 0 at u 564, v 50, w 9',1,1000.0,'');
INSERT INTO "ticks" VALUES(161,'000000000000000000000000000000a0','Kept','b120a183','cut A.shelf-1:J8.2e',1,'A7 shelf 1, mark 5 on the far end','hole diameter 8, depth 24, point 0 at u 564, v 210, w 9',1,1000.0,'');
INSERT INTO "ticks" VALUES(162,'000000000000000000000000000000a1','Kept','b120a183','cut A.shelf-1:J8.3e',1,'A7 shelf 1, mark 6 on the far end','hole diameter 8, depth 24, point 0 at u 564, v 344, w 9',1,1000.0,'');
INSERT INTO "ticks" VALUES(163,'000000000000000000000000000000a2','Kept','b120a183','cut A.side-left:J1.1r',1,'A1 left side, mark 8 on the face side','hole diameter 5, depth 12, point 0 at u 711, v 60, w 0',1,1000.0,'');
INSERT INTO "ticks" VALUES(164,'000000000000000000000000000000a3','Kept','b120a183','cut A.side-left:J1.2r',1,'A1 left side, mark 10 on the face side','hole diameter 5, depth 12, point 0 at u 711, v 340, w 0',1,1000.0,'');
INSERT INTO "ticks" VALUES(165,'000000000000000000000000000000a4','Kept','b120a183','cut A.side-right:J5.1r',1,'A2 right side, mark 8 on the face side','hole diameter 5, depth 12, point 0 at u 711, v 60, w 0',1,1000.0,'');
INSERT INTO "ticks" VALUES(166,'000000000000000000000000000000a5','Kept','b120a183','cut A.side-right:J5.2r',1,'A2 right side, mark 10 on the face side','hole diameter 5, depth 12, point 0 at u 711, v 340, w 0',1,1000.0,'');
INSERT INTO "ticks" VALUES(167,'000000000000000000000000000000a6','Kept','b120a183','cut A.drawer-1.side-left:J15.1r',1,'A9 drawer 1 left side, mark 1 on the face side','hole diameter 6, depth 9, point 0 at u 6, v 41.5, w 0',1,1000.0,'');
INSERT INTO "ticks" VALUES(168,'000000000000000000000000000000a7','Kept','b120a183','cut A.drawer-1.side-left:J15.2r',1,'A9 drawer 1 left side, mark 2 on the face side','hole diameter 6, depth 9, point 0 at u 6, v 73.5, w 0',1,1000.0,'');
INSERT INTO "ticks" VALUES(169,'000000000000000000000000000000a8','Kept','b120a183','cut A.drawer-1.side-left:J16.1r',1,'A9 drawer 1 left side, mark 3 on the face side','hole diameter 6, depth 9, point 0 at u 344, v 41.5, w 0',1,1000.0,'');
INSERT INTO "ticks" VALUES(170,'000000000000000000000000000000a9','Kept','b120a183','cut A.drawer-1.side-left:J16.2r',1,'A9 drawer 1 left side, mark 4 on the face side','hole diameter 6, depth 9, point 0 at u 344, v 73.5, w 0',1,1000.0,'');
INSERT INTO "ticks" VALUES(171,'000000000000000000000000000000aa','Kept','b120a183','cut A.drawer-1.side-right:J18.1r',1,'A10 drawer 1 right side, mark 1 on the face side','hole diameter 6, depth 9, point 0 at u 6, v 41.5, w 0',1,1000.0,'');
INSERT INTO "ticks" VALUES(172,'000000000000000000000000000000ab','Kept','b120a183','cut A.drawer-1.side-right:J18.2r',1,'A10 drawer 1 right side, mark 2 on the face side','hole diameter 6, depth 9, point 0 at u 6, v 73.5, w 0',1,1000.0,'');
INSERT INTO "ticks" VALUES(173,'000000000000000000000000000000ac','Kept','b120a183','cut A.drawer-1.side-right:J19.1r',1,'A10 drawer 1 right side, mark 3 on the face side','hole diameter 6, depth 9, point 0 at u 344, v 41.5, w 0',1,1000.0,'');
INSERT INTO "ticks" VALUES(174,'000000000000000000000000000000ad','Kept','b120a183','cut A.drawer-1.side-right:J19.2r',1,'A10 drawer 1 right side, mark 4 on the face side','hole diameter 6, depth 9, point 0 at u 344, v 73.5, w 0',1,1000.0,'');
INSERT INTO "ticks" VALUES(175,'000000000000000000000000000000ae','Kept','b120a183','cut A.drawer-1.box-front:J15.1e',1,'A11 drawer 1 box front, mark 6 on the datum end','hole diameter 6, depth 18, point 0 at u 0, v 41.5, w 6',1,1000.0,'');
INSERT INTO "ticks" VALUES(176,'000000000000000000000000000000af','Kept','b120a183','cut A.drawer-1.box-front:J15.2e',1,'A11 drawer 1 box front, mark 7 on the datum end','hole diameter 6, depth 18, point 0 at u 0, v 73.5, w 6',1,1000.0,'');
INSERT INTO "ticks" VALUES(177,'000000000000000000000000000000b0','Kept','b120a183','cut A.drawer-1.box-front:J18.1e',1,'A11 drawer 1 box front, mark 8 on the far end','hole diameter 6, depth 18, point 0 at u 514.6, v 41.5, w 6',1,1000.0,'');
INSERT INTO "ticks" VALUES(178,'000000000000000000000000000000b1','Kept','b120a183','cut A.drawer-1.box-front:J18.2e',1,'A11 drawer 1 box front, mark 9 on the far end','hole diameter 6, depth 18, point 0 at u 514.6, v 73.5, w 6',1,1000.0,'');
INSERT INTO "ticks" VALUES(179,'000000000000000000000000000000b2','Kept','b120a183','cut A.drawer-1.box-back:J16.1e',1,'A12 drawer 1 back, mark 2 on the datum end','hole diameter 6, depth 18, point 0 at u 0, v 41.5, w 6',1,1000.0,'');
INSERT INTO "ticks" VALUES(180,'000000000000000000000000000000b3','Kept','b120a183','cut A.drawer-1.box-back:J16.2e',1,'A12 drawer 1 back, mark 3 on the datum end','hole diameter 6, depth 18, point 0 at u 0, v 73.5, w 6',1,1000.0,'');
INSERT INTO "ticks" VALUES(181,'000000000000000000000000000000b4','Kept','b120a183','cut A.drawer-1.box-back:J19.1e',1,'A12 drawer 1 back, mark 4 on the far end','hole diameter 6, depth 18, point 0 at u 514.6, v 41.5, w 6',1,1000.0,'');
INSERT INTO "ticks" VALUES(182,'000000000000000000000000000000b5','Kept','b120a183','cut A.drawer-1.box-back:J19.2e',1,'A12 drawer 1 back, mark 5 on the far end','hole diameter 6, depth 18, point 0 at u 514.6, v 73.5, w 6',1,1000.0,'');
INSERT INTO "ticks" VALUES(183,'000000000000000000000000000000b6','Kept','b120a183','cut A.door-1.cup-1',1,'A14 door 1, mark 1 on the far face','hole diameter 35, depth 13, point 0 at u 22.5, v 100, w 18',1,1000.0,'');
INSERT INTO "ticks" VALUES(184,'000000000000000000000000000000b7','Kept','b120a183','cut A.door-1.cup-2',1,'A14 door 1, mark 2 on the far face','hole diameter 35, depth 13, point 0 at u 22.5, v 340, w 18',1,1000.0,'');
INSERT INTO "ticks" VALUES(185,'000000000000000000000000000000b8','Kept','b120a183','fit A.J1 cam 15',1,'A3 top: 2 x cam 15 (J1)','2 x cam 15 (J1)',1,1000.0,'');
INSERT INTO "ticks" VALUES(186,'000000000000000000000000000000b9','Kept','b120a183','fit A.J1 cam bolt',1,'A3 top: 2 x cam bolt (J1)','2 x cam bolt (J1)',1,1000.0,'');
INSERT INTO "ticks" VALUES(187,'000000000000000000000000000000ba','Kept','b120a183','fit A.J1 dowel 8 x 35',1,'A3 top: 2 x dowel 8 x 35 (J1)','2 x dowel 8 x 35 (J1)',1,1000.0,'');
INSERT INTO "ticks" VALUES(188,'000000000000000000000000000000bb','Kept','b120a183','fit A.J2 dowel 8 x 35',1,'A4 base: 3 x dowel 8 x 35 (J2)','3 x dowel 8 x 35 (J2)',1,1000.0,'');
INSERT INTO "ticks" VALUES(189,'000000000000000000000000000000bc','Kept','b120a183','fit A.J3 dowel 8 x 35',1,'A5 plinth: 1 x dowel 8 x 35 (J3)','1 x dowel 8 x 35 (J3)',1,1000.0,'');
INSERT INTO "ticks" VALUES(190,'000000000000000000000000000000bd','Kept','b120a183','fit A.J4 dowel 8 x 35',1,'A7 shelf 1: 3 x dowel 8 x 35 (J4)','3 x dowel 8 x 35 (J4)',1,1000.0,'');
INSERT INTO "ticks" VALUES(191,'000000000000000000000000000000be','Kept','b120a183','fit A.J5 cam 15',1,'A3 top: 2 x cam 15 (J5)','2 x cam 15 (J5)',1,1000.0,'');
INSERT INTO "ticks" VALUES(192,'000000000000000000000000000000bf','Kept','b120a183','fit A.J5 cam bolt',1,'A3 top: 2 x cam bolt (J5)','2 x cam bolt (J5)',1,1000.0,'');
INSERT INTO "ticks" VALUES(193,'000000000000000000000000000000c0','Kept','b120a183','fit A.J5 dowel 8 x 35',1,'A3 top: 2 x dowel 8 x 35 (J5)','2 x dowel 8 x 35 (J5)',1,1000.0,'');
INSERT INTO "ticks" VALUES(194,'000000000000000000000000000000c1','Kept','b120a183','fit A.J6 dowel 8 x 35',1,'A4 base: 3 x dowel 8 x 35 (J6)','3 x dowel 8 x 35 (J6)',1,1000.0,'');
INSERT INTO "ticks" VALUES(195,'000000000000000000000000000000c2','Kept','b120a183','fit A.J7 dowel 8 x 35',1,'A5 plinth: 1 x dowel 8 x 35 (J7)','1 x dowel 8 x 35 (J7)',1,1000.0,'');
INSERT INTO "ticks" VALUES(196,'000000000000000000000000000000c3','Kept','b120a183','fit A.J8 dowel 8 x 35',1,'A7 shelf 1: 3 x dowel 8 x 35 (J8)','3 x dowel 8 x 35 (J8)',1,1000.0,'');
INSERT INTO "ticks" VALUES(197,'000000000000000000000000000000c4','Kept','b120a183','fit A.J9 dowel 8 x 35',1,'A5 plinth: 4 x dowel 8 x 35 (J9)','4 x dowel 8 x 35 (J9)',1,1000.0,'');
INSERT INTO "ticks" VALUES(198,'000000000000000000000000000000c5','Kept','b120a183','fit A.J15 dowel 6 x 25',1,'A11 drawer 1 box front: 2 x dowel 6 x 25 (J15)','2 x dowel 6 x 25 (J15)',1,1000.0,'');
INSERT INTO "ticks" VALUES(199,'000000000000000000000000000000c6','Kept','b120a183','fit A.J16 dowel 6 x 25',1,'A12 drawer 1 back: 2 x dowel 6 x 25 (J16)','2 x dowel 6 x 25 (J16)',1,1000.0,'');
INSERT INTO "ticks" VALUES(200,'000000000000000000000000000000c7','Kept','b120a183','fit A.J18 dowel 6 x 25',1,'A11 drawer 1 box front: 2 x dowel 6 x 25 (J18)','2 x dowel 6 x 25 (J18)',1,1000.0,'');
INSERT INTO "ticks" VALUES(201,'000000000000000000000000000000c8','Kept','b120a183','fit A.J19 dowel 6 x 25',1,'A12 drawer 1 back: 2 x dowel 6 x 25 (J19)','2 x dowel 6 x 25 (J19)',1,1000.0,'');
INSERT INTO "ticks" VALUES(202,'000000000000000000000000000000c9','Kept','b120a183','runner-case A.drawer-1 A.side-left',1,'runner of drawer 1 on A1 left side','Runner of drawer 1, its case half: 3 × pan-head screw 3.5 x 16 (pilots 2.5 mm, 10 mm deep).',1,1000.0,'');
INSERT INTO "ticks" VALUES(203,'000000000000000000000000000000ca','Kept','b120a183','hinge-plates A.door-1 A.side-left',1,'hinge plates of door 1 on A1 left side','2 hinge plates of door 1: 4 × system screw 6.3 x 13 (pilots 5 mm, 12 mm deep).',1,1000.0,'');
INSERT INTO "ticks" VALUES(204,'000000000000000000000000000000cb','Kept','b120a183','runner-case A.drawer-1 A.side-right',1,'runner of drawer 1 on A2 right side','Runner of drawer 1, its case half: 3 × pan-head screw 3.5 x 16 (pilots 2.5 mm, 10 mm deep).',1,1000.0,'');
INSERT INTO "ticks" VALUES(205,'000000000000000000000000000000cc','Kept','b120a183','joint A.J9',1,'J9 closed','A5 plinth to A4 base, dowels, 4 at 50, 210, 370, 530',1,1000.0,'');
INSERT INTO "ticks" VALUES(206,'000000000000000000000000000000cd','Kept','b120a183','joint A.J6',1,'J6 closed','A4 base to A2 right side, dowels, 3 at 50, 210, 370',1,1000.0,'');
INSERT INTO "ticks" VALUES(207,'000000000000000000000000000000ce','Kept','b120a183','joint A.J7',1,'J7 closed','A5 plinth to A2 right side, dowels, 1 at 40',1,1000.0,'');
INSERT INTO "ticks" VALUES(208,'000000000000000000000000000000cf','Kept','b120a183','joint A.J11',1,'J11 closed','A2 right side to A6 back, glued butt joint',1,1000.0,'');
INSERT INTO "ticks" VALUES(209,'000000000000000000000000000000d0','Kept','b120a183','joint A.J13',1,'J13 closed','A4 base to A6 back, glued butt joint',1,1000.0,'');
INSERT INTO "ticks" VALUES(210,'000000000000000000000000000000d1','Kept','b120a183','joint A.J5',1,'J5 closed','A3 top to A2 right side, cam and bolt with dry dowels, 2 at 60, 340',1,1000.0,'');
INSERT INTO "ticks" VALUES(211,'000000000000000000000000000000d2','Kept','b120a183','joint A.J12',1,'J12 closed','A3 top to A6 back, glued butt joint',1,1000.0,'');
INSERT INTO "ticks" VALUES(212,'000000000000000000000000000000d3','Kept','b120a183','cams A.J5',1,'cams of J5 turned','J5: turn 2 × cam 15 clockwise, a quarter to half a turn, until they grip.',1,1000.0,'');
INSERT INTO "ticks" VALUES(213,'000000000000000000000000000000d4','Kept','b120a183','joint A.J8',1,'J8 closed','A7 shelf 1 to A2 right side, dowels, 3 at 50, 210, 344',1,1000.0,'');
INSERT INTO "ticks" VALUES(214,'000000000000000000000000000000d5','Kept','b120a183','joint A.J14',1,'J14 closed','A7 shelf 1 to A6 back, glued butt joint',1,1000.0,'');
INSERT INTO "ticks" VALUES(215,'000000000000000000000000000000d6','Kept','b120a183','joint A.J1',1,'J1 closed','A3 top to A1 left side, cam and bolt with dry dowels, 2 at 60, 340',1,1000.0,'');
INSERT INTO "ticks" VALUES(216,'000000000000000000000000000000d7','Kept','b120a183','joint A.J2',1,'J2 closed','A4 base to A1 left side, dowels, 3 at 50, 210, 370',1,1000.0,'');
INSERT INTO "ticks" VALUES(217,'000000000000000000000000000000d8','Kept','b120a183','joint A.J3',1,'J3 closed','A5 plinth to A1 left side, dowels, 1 at 40',1,1000.0,'');
INSERT INTO "ticks" VALUES(218,'000000000000000000000000000000d9','Kept','b120a183','joint A.J4',1,'J4 closed','A7 shelf 1 to A1 left side, dowels, 3 at 50, 210, 344',1,1000.0,'');
INSERT INTO "ticks" VALUES(219,'000000000000000000000000000000da','Kept','b120a183','joint A.J10',1,'J10 closed','A1 left side to A6 back, glued butt joint',1,1000.0,'');
INSERT INTO "ticks" VALUES(220,'000000000000000000000000000000db','Kept','b120a183','cams A.J1',1,'cams of J1 turned','J1: turn 2 × cam 15 clockwise, a quarter to half a turn, until they grip.',1,1000.0,'');
INSERT INTO "ticks" VALUES(221,'000000000000000000000000000000dc','Kept','b120a183','joint A.J15',1,'J15 closed','A11 drawer 1 box front to A9 drawer 1 left side, dowels, 2 at 41.5, 73.5',1,1000.0,'');
INSERT INTO "ticks" VALUES(222,'000000000000000000000000000000dd','Kept','b120a183','joint A.J17',1,'J17 closed','A13 drawer 1 bottom to A9 drawer 1 left side, in a groove',1,1000.0,'');
INSERT INTO "ticks" VALUES(223,'000000000000000000000000000000de','Kept','b120a183','joint A.J21',1,'J21 closed','A13 drawer 1 bottom to A11 drawer 1 box front, in a groove',1,1000.0,'');
INSERT INTO "ticks" VALUES(224,'000000000000000000000000000000df','Kept','b120a183','joint A.J16',1,'J16 closed','A12 drawer 1 back to A9 drawer 1 left side, dowels, 2 at 41.5, 73.5',1,1000.0,'');
INSERT INTO "ticks" VALUES(225,'000000000000000000000000000000e0','Kept','b120a183','joint A.J22',1,'J22 closed','A13 drawer 1 bottom to A12 drawer 1 back, in a groove',1,1000.0,'');
INSERT INTO "ticks" VALUES(226,'000000000000000000000000000000e1','Kept','b120a183','joint A.J18',1,'J18 closed','A11 drawer 1 box front to A10 drawer 1 right side, dowels, 2 at 41.5, 73.5',1,1000.0,'');
INSERT INTO "ticks" VALUES(227,'000000000000000000000000000000e2','Kept','b120a183','joint A.J19',1,'J19 closed','A12 drawer 1 back to A10 drawer 1 right side, dowels, 2 at 41.5, 73.5',1,1000.0,'');
INSERT INTO "ticks" VALUES(228,'000000000000000000000000000000e3','Kept','b120a183','joint A.J20',1,'J20 closed','A13 drawer 1 bottom to A10 drawer 1 right side, in a groove',1,1000.0,'');
INSERT INTO "ticks" VALUES(229,'000000000000000000000000000000e4','Kept','b120a183','runner-drawer A.drawer-1 A.drawer-1.side-left',1,'runner of drawer 1 on A9 drawer 1 left side','Drawer half on the outside of drawer 1 left side, front end to the front: 3 × pan-head screw 3.5 x 9.5 (pilots 2.5 mm, 9 mm deep).',1,1000.0,'');
INSERT INTO "ticks" VALUES(230,'000000000000000000000000000000e5','Kept','b120a183','runner-drawer A.drawer-1 A.drawer-1.side-right',1,'runner of drawer 1 on A10 drawer 1 right side','Drawer half on the outside of drawer 1 right side, front end to the front: 3 × pan-head screw 3.5 x 9.5 (pilots 2.5 mm, 9 mm deep).',1,1000.0,'');
INSERT INTO "ticks" VALUES(231,'000000000000000000000000000000e6','Kept','b120a183','place A.drawer-1',1,'drawer 1 left put in','put in in case A',1,1000.0,'');
INSERT INTO "ticks" VALUES(232,'000000000000000000000000000000e7','Kept','b120a183','place A.drawer-1.front',1,'drawer 1 front fixed','fixed in case A',1,1000.0,'');
INSERT INTO "ticks" VALUES(233,'000000000000000000000000000000e8','Kept','b120a183','hinges A.door-1',1,'hinges of door 1 on A14 door 1','Press the 2 hinges (cup hinge, 110 degrees) home into their cups, arms square to the door''s edge, with a block of wood and a clamp if they are tight: 4 × countersunk screw 3.5 x 16 (pilots 2.5 mm, 10 mm deep).',1,1000.0,'');
INSERT INTO "ticks" VALUES(234,'000000000000000000000000000000e9','Kept','b120a183','place A.door-1',1,'door 1 hung','hung in case A',1,1000.0,'');
INSERT INTO "ticks" VALUES(235,'000000000000000000000000000000ea','Kept','b120a183','set-door A.door-1',1,'A14 door 1 set','Set door 1 by its hinges: height at the plates until its edges run level with its neighbours; side, hinge by hinge, until the gap at its free edge is even; depth until it closes flat all round. Aim at a gap of 3 mm all round.',1,1000.0,'');
INSERT INTO "ticks" VALUES(236,'000000000000000000000000000000eb','Kept','b120a183','shelf-pins A.loose-shelf-1',1,'pins of loose shelf 1 put in','First put 4 × shelf pin in, pins of loose shelf 1, row 5 from below: 2 each in left side and right side.',1,1000.0,'');
INSERT INTO "ticks" VALUES(237,'000000000000000000000000000000ec','Kept','b120a183','place A.loose-shelf-1',1,'loose shelf 1 laid in','laid in in case A',1,1000.0,'');
INSERT INTO "ticks" VALUES(238,'ffffffffffffffffffffffffffffffff','Kept','b120a183','sheets cut b120a183',1,'sheets cut','1a2b3c4d',1,1000.0,'');
CREATE TABLE trials (
	id INTEGER NOT NULL, 
	uid VARCHAR(32) NOT NULL, 
	job TEXT NOT NULL, 
	version VARCHAR(40) DEFAULT '' NOT NULL, 
	set_up TEXT NOT NULL, 
	kind VARCHAR(40) NOT NULL, 
	reading FLOAT NOT NULL, 
	at FLOAT NOT NULL, 
	note TEXT DEFAULT '' NOT NULL, 
	PRIMARY KEY (id), 
	UNIQUE (uid)
);
CREATE INDEX ticks_by_job ON ticks (job, thing, copy);
CREATE INDEX spans_by_act ON spans (act, method);
CREATE INDEX spans_by_job ON spans (job);
CREATE INDEX movements_by_item ON movements (item);
COMMIT;
