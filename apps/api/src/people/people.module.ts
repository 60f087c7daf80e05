import { Global, Module } from '@nestjs/common';
import { AddPersonHandler } from './add-person/add-person.handler.js';
import { EditPersonHandler } from './edit-person/edit-person.handler.js';
import { MakeLinkHandler } from './make-link/make-link.handler.js';
import { PeopleController } from './people.controller.js';
import { SetUpHandler } from './set-up/set-up.handler.js';
import { WorkshopController } from './set-up/workshop.controller.js';
import { FrontDoor } from './sign-in/front-door.js';
import { SignInController } from './sign-in/sign-in.controller.js';
import { SignInHandler } from './sign-in/sign-in.handler.js';
import { SignInLinks } from './sign-in-links.js';
import { NOW, WorkshopClock } from './workshop.js';

/** People, how they come in, and whose workshop it is. Every later area asks the clock here what day it is. */
@Global()
@Module({
  controllers: [WorkshopController, SignInController, PeopleController],
  providers: [
    { provide: NOW, useValue: () => new Date() },
    AddPersonHandler,
    EditPersonHandler,
    FrontDoor,
    MakeLinkHandler,
    SetUpHandler,
    SignInHandler,
    SignInLinks,
    WorkshopClock,
  ],
  exports: [NOW, SignInLinks, WorkshopClock],
})
export class PeopleModule {}
